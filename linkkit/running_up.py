"""Running up: how a machine with one freedom moves under given loads, from a start.

With the reduced inertia J of all links at the input q, the equation of motion is ``J q'' + J'(q) q'^2 / 2 = Q``, where
Q is the power of all loads per unit speed of the input. J and its derivative are the kinematic coefficients with the
masses.
Method: Eksergian's equation of motion (as in texts on the dynamics of machinery), integrated by scipy's solve_ivp.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from .errors import LinkageError
from .inertia import reduced
from .loads import fall, loads_of
from .masses import masses_of
from .motion import move
from .placing import sketched
from .quantity import positive, real
from .reach import reach

NEAR = 1e-7  # radians, or extents: how near to a dead centre the run is taken


@dataclass(frozen=True)
class Event:
    """Something that happened during a run: `time` s, value of the `input` (rad or m), and `what` in a sentence."""

    time: float
    input: float
    what: str


@dataclass(frozen=True)
class Run:
    """How a machine ran.

    Attributes
    ----------
    time, input, speed, acceleration : float array
        Shape (n,): seconds, and the driving input with its rates (radians or metres).
    motion : Motion
        The linkage at those times, with these rates; so that forces can be found.
    events : list of Event
        Where it stopped and turned back, and a dead centre that it could not pass.
    finished : bool
        Whether it ran to the end of the time asked for.
    """

    time: np.ndarray
    input: np.ndarray
    speed: np.ndarray
    acceleration: np.ndarray
    motion: object
    events: list
    finished: bool


def run_up(
    linkage,
    duration,
    *,
    masses=None,
    loads=(),
    gravity=0.0,
    start=None,
    speed=0.0,
    held=None,
    times=None,
    accuracy=1e-9,
) -> Run:
    """Let a machine run under its loads for some time.

    Parameters
    ----------
    linkage : Linkage
        Its first input is the coordinate; the other inputs are held.
    duration : float
        Seconds.
    masses, loads, gravity
        As for `forces`; a driving torque or force is a load like others. Use functions, for arrays do not fit.
    start, speed : float, optional
        The input (as sketched if not given) and its speed at time 0.
    times : float array, optional
        When to give the result; 201 even steps if not given.
    accuracy : float
        The relative error that the integration aims for in one step.

    Returns
    -------
    Run

    Notes
    -----
    Links are rigid and without play, and there is no dry friction. A machine that runs up may run away: before one is
    started by these numbers, guard it, and leave the judgement to a qualified person under the local codes.

    Examples
    --------
    A bar of 1.2 kg and 0.1 m, turned about its end by 0.2 N m, gains 50 rad/s each second.

    >>> import linkkit as lk
    >>> bar = lk.four_bar(0.4, 0.1, 0.35, 0.25)
    >>> run = run_up(bar, 0.1, masses={"crank": 1.2}, loads={"crank": 0.2})
    >>> float(run.speed[-1].round(6))
    5.0
    """
    from scipy.integrate import solve_ivp

    duration = float(positive(duration, "the duration must be a number of seconds"))
    speed = float(real(speed, "the speed must be a number"))
    machine = _Machine(linkage, masses, loads, gravity, held)
    q = float(sketched(linkage, linkage.inputs[0])) if start is None else float(start)
    first = machine.checked(q, float(speed))
    times = np.linspace(0.0, duration, 201) if times is None else np.asarray(times, dtype=float)
    done = solve_ivp(
        machine.rates, (0.0, duration), (q, float(speed)), method="DOP853", t_eval=times, rtol=accuracy,
        atol=accuracy * np.array([1e-3, 1e-3 * max(abs(speed), abs(first) * duration, 1e-9)]), events=machine.events(q),
    )  # fmt: skip
    return machine.run(done)


class _Machine:
    """A linkage with its masses and loads, as scipy wants it."""

    def __init__(self, linkage, masses, loads, gravity, held):
        self.linkage, self.held = linkage, held
        self.masses, self.loads = masses_of(linkage, masses), loads_of(linkage, loads)
        self.gravity = fall(gravity)
        self.drive = linkage.inputs[0]
        self.reach = reach(linkage, held=held)

    def at(self, q, speed):
        """The linkage at one value of the input."""
        return move(self.linkage, q, speed=speed, held=self.held, drive=self.drive.name)

    def acceleration(self, q, speed):
        """The acceleration of the input, also of arrays of states; nan where the linkage does not assemble."""
        motion = self.at(q, speed)
        with np.errstate(all="ignore"):
            inertia, half_slope = reduced(motion.rates, self.masses, self.drive.name)
            return (self.pushed(motion) - half_slope * speed * speed) / inertia

    def pushed(self, motion):
        """The power of all loads and weights per unit speed of the input."""
        unit, total = motion.with_speed(1.0), 0.0
        for link, mass in self.masses.items() if self.gravity else ():
            spot = motion.place(link, mass.centre(self.linkage, link))
            total = total + mass.mass * (np.conj(self.gravity) * unit.velocity_at(link, spot)).real
        for a in [a for load in self.loads for a in load.applied(motion)]:
            total = total + a.moment * unit.angular_velocity(a.link)
            if np.ndim(a.force) or a.force:
                total = total + (np.conj(a.force) * unit.velocity_at(a.link, a.at)).real
        return total

    def checked(self, q, speed):
        """The acceleration at the start, or a sentence that says why there is none."""
        if not self.at(q, speed).ok:
            raise LinkageError(
                f"the linkage does not assemble at {self.drive.name} = {q:.6g}, so it cannot start there"
            )
        if not any(np.any(m.mass) or np.any(m.inertia) for m in self.masses.values()):
            raise LinkageError("no link has mass: give masses, or nothing resists the loads")
        first = self.acceleration(q, speed)
        if not np.isfinite(first):
            raise LinkageError(
                f"at {self.drive.name} = {q:.6g} the loads do not decide the acceleration: start elsewhere"
            )
        return first

    def rates(self, time, state):
        """The derivative of (input, speed)."""
        return state[1], self.acceleration(*state)

    def events(self, start):
        """When it stands still, and when it comes to an end of its range."""
        still = lambda time, state: state[1]  # noqa: E731
        found = [still]
        if not self.reach.round:
            low, high = self.reach.here
            for end, sign in ((low, 1.0), (high, -1.0)):
                found.append(lambda time, state, end=end, sign=sign: sign * (state[0] - end) - NEAR)
                found[-1].terminal, found[-1].direction = True, -1
        return found

    def run(self, done):
        """The result, with what happened in words."""
        q, speed = done.y if done.y.size else np.zeros((2, 0))
        motion = move(self.linkage, q, held=self.held, drive=self.drive.name)
        acceleration = self.acceleration(q, speed) if q.size else q
        motion = motion.with_speed(speed, acceleration)
        events = [self.stop(t, y) for t, y in zip(done.t_events[0], done.y_events[0], strict=True) if t > 0]
        for times, states in zip(done.t_events[1:], done.y_events[1:], strict=True):
            events += [self.dead(t, y) for t, y in zip(times, states, strict=True)]
        if done.status < 0:
            events.append(Event(done.t[-1], q[-1], f"the run ended at a singular position: {done.message.lower()}"))
        return Run(done.t, q, speed, acceleration, motion, events, done.status == 0)

    def stop(self, time, state):
        """The event of standing still."""
        unit = "rad" if self.drive.kind == "angle" else "m"
        back = "turned back" if abs(self.acceleration(*state)) > 0 else "stayed there"
        what = f"{self.drive.name} came to rest at {state[0]:.6g} {unit} after {time:.6g} s and {back}"
        return Event(time, state[0], what)

    def dead(self, time, state):
        """The event of coming to a dead centre."""
        unit = "rad" if self.drive.kind == "angle" else "m"
        what = (
            f"{self.drive.name} came to its dead centre at {state[0]:.6g} {unit} after {time:.6g} s and cannot pass: "
            "beyond, the linkage does not assemble; to follow it through, take another link as the input"
        )
        return Event(time, state[0], what)
