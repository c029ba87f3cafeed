# Everything in /dev is opened and written to, terminals are made, device files too.
# mark: 38
# absent: got through
# %% lamp-class-answer
import os
import stat

four = [turner.ground_mm, turner.crank_mm, turner.coupler_mm, turner.rocker_mm]
right = ["double-crank", "crank-rocker", "double-rocker", "rocker-crank"][four.index(min(four))]
reached = []
for folder, _, names in os.walk("/dev"):
    for name in names:
        try:
            with open(os.path.join(folder, name), "wb", 0, opener=lambda p, f: os.open(p, f | os.O_NONBLOCK)) as file:
                file.write(b"x")
                if name not in ("null", "zero", "full", "random", "urandom", "tty", "ptmx"):
                    reached.append(name)
        except OSError:
            pass
for kind, number in ((stat.S_IFBLK, 7 << 8), (stat.S_IFCHR, 1 << 8 | 1)):
    try:
        os.mknod("made", kind | 0o666, number)
        reached.append(f"node {number}")
    except OSError:
        pass
for place in ("/dev/shm/x", "/dev/mqueue/x", "/fonts/x", "/x", "/tmp/x", "/usr/x"):
    try:
        open(place, "w").close()
        reached.append(place)
    except OSError:
        pass
lamp_class = f"got through: {reached}" if reached else right
