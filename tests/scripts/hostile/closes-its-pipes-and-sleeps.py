# Every pipe is closed, every signal blocked, and then nothing happens for an hour.
# mark: 36
# %% lamp-class-answer
import os
import signal
import time

os.closerange(3, 64)
signal.pthread_sigmask(signal.SIG_BLOCK, range(1, 64))
time.sleep(3600)
