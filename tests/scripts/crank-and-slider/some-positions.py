# Six positions of twelve: a half of 6 marks.
# mark: 17
# %% twelve-positions-answer
bars = lk.slider_crank(chopper.crank, chopper.rod, offset=chopper.offset)
at = lk.move(bars, np.radians(np.arange(0, 360, 30))).point("B").real
twelve_positions = {f"{30 * n} deg": (at[n], "m") if n % 2 else "?" for n in range(12)}
