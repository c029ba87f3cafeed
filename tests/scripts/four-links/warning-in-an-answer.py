# A warning on the way costs nothing: full marks.
# mark: 38
# %% stroke-answer
import warnings

warnings.warn("a warning of mine")
stroke = (lk.facts(lk.slider_crank(chopper.crank, chopper.rod, offset=chopper.offset)).stroke, "m")
