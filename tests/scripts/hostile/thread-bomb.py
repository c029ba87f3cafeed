# Threads are started without end.
# mark: 36
# %% lamp-class-answer
import threading
import time

while True:
    threading.Thread(target=time.sleep, args=(3600,), daemon=True).start()
