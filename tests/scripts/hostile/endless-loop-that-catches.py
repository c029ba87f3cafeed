# An answer that never ends and swallows every interrupt.
# mark: 36
# %% lamp-class-answer
while True:
    try:
        while True:
            pass
    except BaseException:
        continue
