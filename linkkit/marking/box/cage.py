"""The walls around one script: namespaces and a scratch of its own, no capabilities, limits, system calls refused.

Each wall is there for what the others let through: name spaces hide the other processes, the network and all folders but
the scratch; limits stop exhaustion; the filter stops new processes (a limit on their number does not bind root)
and the calls by which the other walls could be taken down.
"""

from __future__ import annotations

import ctypes
import os
import resource
import tempfile
from dataclasses import dataclass

SCRATCH = "/scratch"
ASLEEP = 3  # times as long by the clock as by the processor a script may take
MB = 1 << 20
NEW = {"user": 0x10000000, "mount": 0x20000, "pid": 0x20000000, "net": 0x40000000, "ipc": 0x8000000, "uts": 0x4000000}
READ_ONLY, NO_SUID, NO_DEV, PRIVATE, RECURSIVE = 1, 2, 4, 1 << 18, 1 << 14
NO_NEW_PRIVILEGES, CAPABILITY_VERSION, THREAD = 38, 0x20080522, 0x10000
SET_FILTER, FILTER_MODE, INSTRUCTION = 22, 2, 8  # of prctl; bytes of one instruction of a filter
PROCESSES = "fork vfork execve execveat ptrace process_vm_readv process_vm_writev kcmp pidfd_open pidfd_getfd"
NETWORK = "socket connect bind listen accept accept4 sendmsg sendmmsg"
WALLS = (
    "unshare setns mount umount2 pivot_root chroot open_tree move_mount fsopen fsconfig fsmount fspick mount_setattr "
    "capset prlimit64 setrlimit prctl personality name_to_handle_at open_by_handle_at"
)
KERNEL = (
    "bpf perf_event_open userfaultfd io_uring_setup io_uring_enter io_uring_register keyctl add_key request_key "
    "init_module finit_module delete_module kexec_load kexec_file_load reboot swapon swapoff quotactl syslog "
    "memfd_create memfd_secret shmget semget msgget mq_open vmsplice fanotify_init acct settimeofday clock_settime"
)


class Program(ctypes.Structure):
    """A filter as the kernel takes it. Made once: the library would make it anew in each child, for 1.5 ms."""

    _fields_ = (("length", ctypes.c_ushort), ("instructions", ctypes.c_char_p))

    @classmethod
    def of(cls, rules) -> Program:
        """From the rules of the library."""
        with open(os.memfd_create("filter"), "w+b") as made:
            rules.export_bpf(made)
            made.seek(0)
            code = made.read()
        return cls(len(code) // INSTRUCTION, code)


class NoCage(RuntimeError):
    """A wall could not be put up."""


@dataclass(frozen=True)
class Limits:
    """What one script may use: seconds, bytes, files."""

    cell_seconds: float = 10.0
    total_seconds: float = 60.0
    memory: int = 3 * 1024 * MB
    file_size: int = 20 * MB
    scratch: int = 32 * MB
    output: int = 2 * MB
    open_files: int = 64


libc = ctypes.CDLL(None, use_errno=True)


class Walls:
    """What is put up around each script."""

    def __init__(self):
        self.rules = Program.of(call_rules())

    def move_apart(self, limits: Limits) -> None:
        """Go into namespaces of our own (that of process ids begins with the next fork); see nothing but the scratch."""
        user, group = os.getuid(), os.getgid()
        _check(libc.unshare(sum(NEW.values())), "new namespaces")
        for name, line in (("setgroups", "deny"), ("uid_map", f"{user} {user} 1"), ("gid_map", f"{group} {group} 1")):
            with open(f"/proc/self/{name}", "w") as out:
                out.write(line)
        _mount("none", "/", None, RECURSIVE | PRIVATE, "")
        _mount("scratch", SCRATCH, "tmpfs", NO_SUID | NO_DEV, f"size={limits.scratch},nr_inodes=2000")
        _mount("hidden", "/proc", "tmpfs", READ_ONLY | NO_SUID | NO_DEV, "size=4096,nr_inodes=2")

    def lock(self, limits: Limits) -> None:
        """Give up every capability, set the limits, load the filter: from here on there is no way back."""
        os.chdir(SCRATCH)
        _check(libc.prctl(NO_NEW_PRIVILEGES, 1, 0, 0, 0), "no new privileges")
        header, none = (ctypes.c_uint32 * 2)(CAPABILITY_VERSION, 0), (ctypes.c_uint32 * 6)()
        _check(libc.capset(header, none), "dropping capabilities")
        set_limits(limits)
        _check(libc.prctl(SET_FILTER, FILTER_MODE, ctypes.byref(self.rules), 0, 0), "the filter of system calls")


class NoWalls:
    """No walls but the limits: only where marking is not for credit."""

    def move_apart(self, limits: Limits) -> None:
        """Stay."""

    def lock(self, limits: Limits) -> None:
        """Set the limits, in a scratch folder."""
        os.chdir(tempfile.mkdtemp(prefix="not-for-credit-"))
        set_limits(limits)


def set_limits(limits: Limits) -> None:
    """Limits of this process, which it can't raise again."""
    seconds = int(limits.total_seconds) + 1
    for what, most in (
        (resource.RLIMIT_CPU, seconds),
        (resource.RLIMIT_AS, limits.memory),
        (resource.RLIMIT_FSIZE, limits.file_size),
        (resource.RLIMIT_NOFILE, limits.open_files),
        (resource.RLIMIT_CORE, 0),
    ):
        resource.setrlimit(what, (most, most))


def _check(result: int, what: str) -> None:
    if result != 0:
        raise NoCage(f"{what}: {os.strerror(ctypes.get_errno())}")


def _mount(source: str, target: str, kind: str | None, flags: int, options: str) -> None:
    words = [word and word.encode() for word in (source, target, kind)]
    _check(libc.mount(*words, flags, options.encode()), f"mounting on {target}")


def call_rules():
    """The system calls that a student's code is refused."""
    from errno import ENOSYS, EPERM

    import pyseccomp

    rules = pyseccomp.SyscallFilter(pyseccomp.ALLOW)
    refuse = pyseccomp.ERRNO(EPERM)
    for name in f"{PROCESSES} {NETWORK} {WALLS} {KERNEL}".split():
        try:
            rules.add_rule(refuse, name)
        except (OSError, ValueError, RuntimeError):
            if name in f"{PROCESSES} {NETWORK}".split()[:3]:
                raise  # a call that this machine does not have need not be refused, but these it has
    # threads yes, processes no; clone3 hides its flags, so it is said not to exist and clone is used instead
    rules.add_rule(refuse, "clone", pyseccomp.Arg(0, pyseccomp.MASKED_EQ, THREAD, 0))
    rules.add_rule(pyseccomp.ERRNO(ENOSYS), "clone3")
    return rules
