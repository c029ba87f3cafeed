"""Dynamics of the hoist over 360 positions: against a loop over the positions, as ratios within one run.

The loop does the same by the book, one position after the other: Newton's method on the constraint equations of
absolute coordinates, then velocity, acceleration and multipliers by numpy's solver. It starts each position from the last.
"""

import numpy as np
import pytest

import linkkit as lk
from timing import SLACK, quickest
from tolerances import DIFFERENCE

HOIST = lk.machine("crate-hoist")
MASSES = {"rod": 14.0, "lever": 20.0, "link": 15.0, "boom": 45.0, "tray": 60.0, "cylinder": 9.0, "piston rod": 6.0}
SPEED, LOAD, G = 3.0, -2000j, 9.81
PINS = [p for p in HOIST.points if len(HOIST.carriers[p]) > 1]
LINKS = list(HOIST.moving)


def everything():
    """Positions, coefficients, accelerations and all joint forces; from a linkage that has been moved before."""
    motion = lk.move(HOIST, speed=SPEED)
    return asked(lk.forces(motion, masses=MASSES, loads={"R": LOAD}, gravity=G))


def asked(forces):
    """What is asked of every solution."""
    forces.motion.acceleration("R")
    return forces, forces.input_torque, [forces.pin(p) for p in PINS], forces.slide("ram")


def another_speed(forces):
    """The same at another speed."""
    return asked(forces.with_speed(4.0))


class Loop:
    """One position after the other: each link by the place of its first point's sketch and its turn, (x, y, angle)."""

    def __init__(self):
        self.origin = {k: HOIST.points[HOIST.links[k][0]] for k in LINKS}
        self.fixed = HOIST.fixed
        self.weights = lk.forces(lk.move(HOIST, [0.0]), masses=MASSES).masses
        self.ram = HOIST.slide("ram")
        self.stretch = abs(HOIST.points["F"] - HOIST.points["P"])

    def arm(self, link, point, q):
        """The vector from a link's origin to one of its points."""
        return np.exp(1j * q[3 * LINKS.index(link) + 2]) * (HOIST.points[point] - self.origin[link])

    def place(self, link, point, q):
        """Where a link has one of its points."""
        if link == self.fixed:
            return HOIST.points[point]
        n = 3 * LINKS.index(link)
        return complex(q[n], q[n + 1]) + self.arm(link, point, q)

    def equations(self, q, theta):
        """The residual, the Jacobian and the pins in order."""
        off, rows, names = [], [], []
        for point, carriers in HOIST.carriers.items():
            for other in carriers[1:]:
                gap = self.place(carriers[0], point, q) - self.place(other, point, q)
                off += [gap.real, gap.imag]
                rows.append(self.pin_rows(carriers[0], other, point, q))
                names += [(point, other)] * 2
        crank, one, two = (3 * LINKS.index(k) for k in ("crank", "cylinder", "piston rod"))
        along = np.exp(1j * q[one + 2]) * self.ram.direction
        apart = self.place("piston rod", "F", q) - self.place("cylinder", "P", q)
        off += [q[crank + 2] - theta, q[two + 2] - q[one + 2]]
        off += [(np.conj(along) * apart).imag, (np.conj(along) * apart).real - self.stretch]
        more = np.zeros((4, len(q)))
        more[0, crank + 2] = more[1, two + 2] = 1.0
        more[1, one + 2] = -1.0
        for row, e in ((2, 1j * along), (3, along)):
            more[row, two : two + 2], more[row, one : one + 2] = (e.real, e.imag), (-e.real, -e.imag)
            more[row, two + 2] = (np.conj(e) * 1j * self.arm("piston rod", "F", q)).real
            more[row, one + 2] = -(np.conj(e) * 1j * (self.arm("cylinder", "P", q) + apart)).real
        return np.array(off), np.vstack([*rows, more]), names, along, apart

    def pin_rows(self, one, two, point, q):
        """The two rows of a pin."""
        rows = np.zeros((2, len(q)))
        for link, sign in ((one, 1.0), (two, -1.0)):
            if link != self.fixed:
                n, r = 3 * LINKS.index(link), self.arm(link, point, q)
                rows[0, n], rows[1, n + 1], rows[0, n + 2], rows[1, n + 2] = sign, sign, -sign * r.imag, sign * r.real
        return rows

    def bias(self, q, w, along, apart, slip):
        """What the second derivative holds besides accelerations."""
        found = []
        for point, carriers in HOIST.carriers.items():
            for other in carriers[1:]:
                a = sum(sign * w[LINKS.index(k)] ** 2 * self.arm(k, point, q)
                        for k, sign in ((other, 1.0), (carriers[0], -1.0)) if k != self.fixed)  # fmt: skip
                found += [a.real, a.imag]
        wc, wr = w[LINKS.index("cylinder")], w[LINKS.index("piston rod")]
        far = wc**2 * (self.arm("cylinder", "P", q) - apart) - wr**2 * self.arm("piston rod", "F", q)
        total = np.conj(along) * (far - 2j * wc * slip)
        return np.array([*found, 0.0, 0.0, total.imag, total.real])

    def at(self, q, theta):
        """Everything at one position, from the pose of another close by."""
        for _ in range(20):
            off, jacobian, names, along, apart = self.equations(q, theta)
            change = np.linalg.solve(jacobian, -off)
            q = q + change
            if np.max(abs(change)) < 1e-13:
                break
        drive = np.zeros(len(q))
        drive[-4] = SPEED
        v = np.linalg.solve(jacobian, drive)
        w, speed = v[2::3], lambda k, p: self.velocity(v, k, p, q)
        slip = speed("piston rod", "F") - speed("cylinder", "P")
        acceleration = np.linalg.solve(jacobian, -self.bias(q, w, along, apart, slip))
        return q, acceleration, names, np.linalg.solve(jacobian.T, -self.pushed(q, w, acceleration))

    def velocity(self, v, link, point, q):
        """The velocity of a point of a link."""
        n = 3 * LINKS.index(link)
        return complex(v[n], v[n + 1]) + 1j * v[n + 2] * self.arm(link, point, q)

    def pushed(self, q, w, acceleration):
        """Inertia, weight and load on each link, at its origin."""
        total = np.zeros(len(q))
        for link, m in self.weights.items():
            n = 3 * LINKS.index(link)
            r = np.exp(1j * q[n + 2]) * (m.centre(HOIST, link) - self.origin[link])
            a = complex(acceleration[n], acceleration[n + 1])
            a += (1j * acceleration[n + 2] - w[n // 3] ** 2) * r
            force = -m.mass * (a + 1j * G)
            total[n : n + 3] += force.real, force.imag, (np.conj(r) * force).imag - m.inertia * acceleration[n + 2]
        n, r = 3 * LINKS.index("tray"), self.arm("tray", "R", q)
        total[n : n + 3] += LOAD.real, LOAD.imag, (np.conj(r) * LOAD).imag
        return total

    def run(self):
        """The torque of the crank and the force at T on the tray, position by position."""
        theta = lk.move(HOIST).input
        q = np.array([x for k in LINKS for x in (self.origin[k].real, self.origin[k].imag, 0.0)])
        start = np.angle(HOIST.points["A"] - HOIST.points["O"])
        for step in np.linspace(start, theta[0], 40)[1:]:
            q = self.at(q, step - start)[0]
        torque, force = [], []
        for value in theta:
            q, _, names, multipliers = self.at(q, value - start)
            rows = [n for n, name in enumerate(names) if name == ("T", "tray")]
            torque.append(multipliers[len(names)])
            force.append(-complex(*multipliers[rows]))
        return np.array(torque), np.array(force)


@pytest.fixture(scope="module")
def solved():
    return everything()[0]


def test_the_loop_finds_the_same(solved):
    """Else the ratio would mean nothing."""
    torque, force = Loop().run()
    assert solved.input_torque == pytest.approx(torque, abs=DIFFERENCE * np.max(abs(torque)))
    assert solved.pin("T", "tray") == pytest.approx(force, rel=DIFFERENCE)


def test_at_least_fifty_times_a_loop(solved):
    loop = Loop()
    ours, theirs = quickest(everything, 200), quickest(loop.run, 3)
    print(f"everything {1000 * ours:.2f} ms, loop {1000 * theirs:.0f} ms: {theirs / ours:.0f} times")
    assert theirs >= SLACK * 50 * ours


def test_at_most_five_milliseconds(solved):
    assert quickest(everything, 200) <= 5e-3 / SLACK


def test_another_speed_at_most_a_tenth(solved):
    ours, again = quickest(everything, 100), quickest(lambda: another_speed(solved), 200)
    print(f"everything {1000 * ours:.2f} ms, another speed {1000 * again:.3f} ms: {ours / again:.0f} times")
    assert again <= ours / 10 / SLACK
