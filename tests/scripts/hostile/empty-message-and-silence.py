# A message that stands for the end of all messages, and then an endless wait.
# mark: 36
# %% lamp-class-answer
# brings: tell
import signal
import time

tell(b"null")
signal.pthread_sigmask(signal.SIG_BLOCK, range(1, 64))
time.sleep(3600)
