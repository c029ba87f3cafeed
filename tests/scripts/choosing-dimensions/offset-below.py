# The slide on the wrong side of the crank's pivot, so the quick stroke is the wrong way: a half of 5 marks.
# mark: 37.5
# %% new-saw-answer
from linkkit.design import slider_crank_for

made = slider_crank_for(saw.stroke, saw.time_ratio).best.values
new_saw = {"crank OA": (made["crank"], "m"), "rod AB": (made["rod"], "m"), "offset": (-abs(made["offset"]), "m")}
