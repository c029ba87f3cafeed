# The function asked for never returns and swallows interrupts.
# mark: 32
# %% rocker-at-answer
def rocker_at(crank_angle):
    while True:
        try:
            while True:
                pass
        except BaseException:
            pass
