# A pin of three links counted as one pair: a half of 2 marks.
# mark: 12
# %% mobility-of-counts-answer
mobility_of_counts = 3 * (parts.links - 1) - 2 * (parts.pins + parts.shared + parts.slides)
