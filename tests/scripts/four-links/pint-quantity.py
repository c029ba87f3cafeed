# A quantity of the units library, in inches: full marks.
# mark: 38
# %% stroke-answer
import pint

metres = lk.facts(lk.slider_crank(chopper.crank, chopper.rod, offset=chopper.offset)).stroke
stroke = pint.UnitRegistry().Quantity(metres, "m").to("inch")
