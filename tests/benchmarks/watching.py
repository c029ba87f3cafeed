"""`linkkit mark` on a course, watched while it runs."""

import contextlib
import subprocess
import sys
import threading
import time
from collections import defaultdict

import psutil

PYTHON = 50 << 20  # bytes: what takes less is no Python of ours
EVERY, LONGEST = 0.2, 3.0  # seconds: between two looks; that a script which shares its parent's memory may take
WARM = "linkkit.marking.box.warm"  # the processes whose children, one or two a script, count with them


class Watched:
    """The time of a run, and memory and processor time of each of its processes, those in the sandbox too."""

    def __init__(self, course, assignment, *words):
        self.memory, self.processor = defaultdict(list), {}
        command = [sys.executable, "-m", "linkkit.cli", "mark", assignment, "--course", str(course), *words]
        start = time.perf_counter()
        with subprocess.Popen(command, stdout=subprocess.PIPE, stderr=subprocess.STDOUT, text=True) as run:
            watching = threading.Thread(target=self._watch, args=(run,))
            watching.start()
            self.said = run.communicate()[0]
            watching.join()
        self.seconds = time.perf_counter() - start
        assert run.returncode == 0, self.said

    def _watch(self, run):
        top = psutil.Process(run.pid)
        while run.poll() is None:
            with contextlib.suppress(psutil.Error):
                for process in [top, *top.children(recursive=True)]:
                    self._look_at(process)
            time.sleep(EVERY)

    def _look_at(self, process):
        with contextlib.suppress(psutil.Error), process.oneshot():
            which = process.pid, process.create_time()
            self.memory[which].append(process.memory_info().rss)
            spent = process.cpu_times()
            of_children = spent.children_user + spent.children_system if WARM in process.cmdline() else 0.0
            self.processor[which] = spent.user + spent.system + of_children

    def lasting(self, share=0.0):
        """The processes that were there for more than a script, and for at least a share of the run."""
        least = max(LONGEST / EVERY, share * max(map(len, self.memory.values())))
        return [which for which, seen in self.memory.items() if len(seen) > least and max(seen) > PYTHON]

    def most_memory(self):
        """The most that each of them took, added up: what they share is counted more than once."""
        return sum(max(self.memory[which]) for which in self.lasting())

    def processor_time(self):
        """Seconds of all of them, starting included."""
        return sum(self.processor[which] for which in self.lasting())

    def grown(self):
        """(most in the second third, most in the last fifth) of the memory of each process that lasts."""
        there = [self.memory[which] for which in self.lasting(0.6)]
        return [(max(seen[len(seen) // 3 : 2 * len(seen) // 3]), max(seen[-len(seen) // 5 :])) for seen in there]
