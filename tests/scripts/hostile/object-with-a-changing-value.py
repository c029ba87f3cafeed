# A number that is another one each time it is read.
# mark: 35
# %% stroke-answer
class Moving(float):
    calls = 0

    def __float__(self):
        Moving.calls += 1
        return float(Moving.calls)


stroke = (Moving(3.0), "mm")
