# A hundred threads multiply large matrices, which no lock of Python's holds back.
# mark: 36
# %% lamp-class-answer
import signal
import threading

import numpy as np

signal.pthread_sigmask(signal.SIG_BLOCK, range(1, 64))
table = np.ones((500, 500))


def work():
    while True:
        table @ table


for _ in range(100):
    threading.Thread(target=work, daemon=True).start()
work()
