# A function that calls itself for ever.
# mark: 36
# %% lamp-class-answer
import sys

sys.setrecursionlimit(10**9)


def deeper():
    return deeper() + 1


deeper()
