# An answer that sleeps for an hour.
# mark: 36
# %% lamp-class-answer
import time

time.sleep(3600)
