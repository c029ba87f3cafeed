# The positions as an array instead of the table: nothing of 6 marks.
# mark: 14
# %% twelve-positions-answer
twelve_positions = lk.move(lk.slider_crank(chopper.crank, chopper.rod, offset=chopper.offset)).point("B").real
