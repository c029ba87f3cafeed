# A thread ends the process some time later.
# mark: any
# %% lamp-class-answer
import os
import threading

threading.Timer(0.05, os._exit, (0,)).start()
