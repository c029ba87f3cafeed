# The alarm is switched off before an endless loop.
# mark: 36
# %% lamp-class-answer
import signal

signal.signal(signal.SIGALRM, signal.SIG_IGN)
signal.setitimer(signal.ITIMER_REAL, 0)
while True:
    pass
