# The figures right, the size a thousand times off: a quarter of 3 marks.
# mark: 35.75
# %% stroke-answer
stroke = (lk.facts(lk.slider_crank(chopper.crank, chopper.rod, offset=chopper.offset)).stroke, "mm")
