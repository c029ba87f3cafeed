# An honest student: counts in words and figures, the machine's own from its description.
# mark: 13
# %% your-id
import math

student_id = "{student}"

# %% mobility-of-counts-answer
mobility_of_counts = f"{3 * (parts.links - 1) - 2 * (parts.pins + parts.slides) - 4 * parts.shared}"
# %% pairs-wanted-answer
pairs_wanted = f"{(3 * links.links - 4) // 2}"
# %% needless-constraints-answer
needless_constraints = f"{cranks.cranks - 2}"
