# Empty messages without end.
# mark: 36
# %% lamp-class-answer
# brings: tell
import signal

signal.pthread_sigmask(signal.SIG_BLOCK, range(1, 64))
many = (struct.pack(">I", 2) + b'""') * 10_000
while True:
    for fd in range(3, 64):
        try:
            os.write(fd, many)
        except OSError:
            pass
