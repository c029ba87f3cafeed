# Other dimensions than the worked solution's, from the package: all marks.
# mark: 40
# %% new-shaker-answer
from linkkit.design import crank_rocker_for

made = crank_rocker_for(shaker.swing, shaker.time_ratio).best.values
bars = [made[name] for name in ("ground", "crank", "coupler", "rocker")]
scale = 950 * shaker.room / max(bars)
rows = ("ground OQ", "crank OA", "coupler AB", "rocker QB")
new_shaker = {row: f"{bar * scale:.2f} mm" for row, bar in zip(rows, bars)}
