# Every signal there is, to the process itself.
# mark: 36
# %% lamp-class-answer
import os
import signal

for number in range(1, 65):
    if number not in (signal.SIGALRM, signal.SIGPROF):
        try:
            signal.raise_signal(number)
            os.kill(0, number)
        except (OSError, ValueError, KeyboardInterrupt):
            pass
