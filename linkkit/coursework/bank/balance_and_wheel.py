"""A counterweight for the ice chopper, a flywheel for the fish press."""

from __future__ import annotations

import numpy as np

from ..answers import Number
from ..givens import Given, Setting
from ..question import Misconception, Question, Worked
from ..tolerance import calculated
from ..written import Written
from .loads_at_speed import CAUTION

BALANCED = Setting(
    id="chopper-balanced",
    version=1,
    title="A counterweight",
    story="A counterweight opposite to the crank is to balance all that turns with the crank pin and a share of what goes to "
    "and fro." + CAUTION,
    givens=(
        Given("crank_mm", "crank radius", tuple(range(80, 145, 5))),
        Given("weight_mm", "radius of the counterweight", tuple(range(100, 205, 5))),
        Given("turning_kg", "mass that turns with the crank pin", tuple(range(3, 10))),
        Given("sliding_kg", "mass that goes to and fro", tuple(range(4, 15))),
        Given("share_percent", "share of it to be balanced", tuple(range(30, 75, 5))),
    ),
    fits=lambda g: np.abs(g.crank_mm / g.weight_mm - 1) > 0.03,
)

COUNTERWEIGHT = Question(
    id="counterweight",
    version=1,
    concept="10-wheel",
    setting="chopper-balanced",
    title="How heavy must it be?",
    marks=2,
    ask="Calculate the mass of the counterweight.",
    kind=Number("kg", calculated("kg", size=1.0)),
    answer=lambda g: (g.turning_kg + g.share * g.sliding_kg) * g.crank / g.weight,
    by_hand=lambda g: Worked(
        (f"Mass to balance at the crank pin: {g.turning_kg} + {g.share_percent} % of {g.sliding_kg} = "
         f"{g.turning_kg + g.share_percent * g.sliding_kg / 100:.4g} kg.",
         f"Equal mass × radius: {g.turning_kg + g.share_percent * g.sliding_kg / 100:.4g} × {g.crank_mm} / {g.weight_mm}."),
        float((g.turning_kg + g.share_percent * g.sliding_kg / 100) * g.crank_mm / g.weight_mm)),
    model="at_pin = balanced.turning_kg + balanced.share * balanced.sliding_kg\n"
    'counterweight = (at_pin * balanced.crank_mm / balanced.weight_mm, "kg")',
    misconceptions=(
        Misconception("all-of-it", lambda g: (g.turning_kg + g.sliding_kg) * g.crank / g.weight,
                      "All of the sliding mass was balanced. Then as large a force comes up square to the guide.", 1 / 2),
        Misconception("turning-mass-only", lambda g: g.turning_kg * g.crank / g.weight,
                      "The share of the mass that goes to and fro is missing.", 1 / 3),
        Misconception("radii-upside-down", lambda g: (g.turning_kg + g.share * g.sliding_kg) * g.weight / g.crank,
                      "The radii are upside down: farther out a smaller mass will do.", 1 / 2),
        Misconception("radii-left-out", lambda g: g.turning_kg + g.share * g.sliding_kg + 0 * g.crank,
                      "It is not at the radius of the crank pin: mass × radius must be equal.", 1 / 3),
    ),
    hint="Mass × radius of the counterweight equals that of what it balances.",
)  # fmt: skip

WHEEL = Setting(
    id="press-flywheel",
    version=1,
    title="A flywheel for the fish press",
    story="While the fish press goes through its cycle, the energy of its flywheel rises and falls by the amount below."
    + CAUTION,
    givens=(
        Given("energy", "energy given and taken back (J)", tuple(range(200, 1010, 20))),
        Given("speed_rpm", "mean speed", tuple(range(90, 305, 10))),
        Given("allowed_percent", "allowed: highest less lowest speed, of the mean", tuple(range(2, 11))),
    ),
    fits=lambda g: g.energy > 0,
)

FLYWHEEL_INERTIA = Question(
    id="flywheel_inertia",
    version=1,
    concept="10-wheel",
    setting="press-flywheel",
    title="Its moment of inertia",
    marks=3,
    ask="What moment of inertia must the flywheel have?",
    kind=Number("kg m^2", calculated("kg m^2", size=10.0)),
    answer=lambda g: g.energy / (g.allowed * g.speed**2),
    by_hand=lambda g: Worked(
        (f"{g.speed_rpm} rev/min is {g.speed:.4g} rad/s; it may vary by {g.allowed * g.speed:.4g} rad/s.",
         f"½ I (ω₁² − ω₂²) = I ω (ω₁ − ω₂) = {g.energy} J, so I = {g.energy} / ({g.speed:.4g} × {g.allowed * g.speed:.4g})."),
        float(g.energy / (g.speed * (g.allowed * g.speed)))),
    model='flywheel_inertia = (flywheel.energy / (flywheel.allowed * flywheel.speed ** 2), "kg m^2")',
    misconceptions=(
        Misconception("rev-per-minute", lambda g: g.energy / (g.allowed * g.speed_rpm**2),
                      "The speed in rev/min was taken for radians a second.", 1 / 3),
        Misconception("factor-two", lambda g: 2 * g.energy / (g.allowed * g.speed**2),
                      "The factor one half of the energy and the sum ω₁ + ω₂ = 2 ω cancel.", 1 / 2),
        Misconception("not-squared", lambda g: g.energy / (g.allowed * g.speed),
                      "The allowed part is of the mean speed: I ω × (part × ω).", 1 / 2),
    ),
    hint="Energy between the highest and the lowest speed: ½ I (ω₁² − ω₂²), and ω₁ + ω₂ is twice the mean.",
)  # fmt: skip

RUN_OUT = Question(
    id="energy_left",
    version=1,
    concept="10-wheel",
    setting="press-flywheel",
    title="What the flywheel holds",
    marks=2,
    ask="With just that flywheel: how much energy does it hold at the mean speed?",
    kind=Number("J", calculated("J", size=1000.0)),
    answer=lambda g: g.energy / (2 * g.allowed) + 0 * g.speed,
    by_hand=lambda g: Worked(
        (f"I ω² = {g.energy} / {g.allowed:.3g} J, and the energy is half of that: {g.energy / g.allowed / 2:.4g} J.",),
        float(100 * g.energy / g.allowed_percent / 2)),
    model='energy_left = (0.5 * flywheel.energy / (flywheel.allowed * flywheel.speed ** 2) * flywheel.speed ** 2, "J")',
    misconceptions=(
        Misconception("half-left-out", lambda g: g.energy / g.allowed + 0 * g.speed, "The energy is ½ I ω²: the half is "
                      "missing.", 1 / 2),
        Misconception("fluctuation", lambda g: 1.0 * g.energy, "This is what it gives and takes back in a cycle only.", 1 / 4),
        Misconception("part-of-it", lambda g: g.energy * g.allowed / 2, "The allowed part was multiplied by; it divides."),
    ),
    hint="Moment of inertia first, then ½ I ω².",
)  # fmt: skip

WHY_WHEEL = Question(
    id="why_a_flywheel",
    version=1,
    concept="10-wheel",
    setting="press-flywheel",
    title="What is it good for?",
    marks=3,
    ask="Explain in three or four sentences, to someone who runs the press, what the flywheel does, what it does not do, and "
    "what has to be done before anyone works on the press after it has been switched off.",
    kind=Written((("energy is stored and given back within a cycle", 1), ("it adds no energy and limits no force", 1),
                  ("it turns on after switching off: wait for a stop, hold, lock off, by the local rules", 1))),
    answer=lambda g: f"It takes up and gives back {g.energy} J in each cycle, so that the speed stays within "
    f"{g.allowed_percent} % of the mean. It makes no energy, and in a jam it drives on with all that it holds. Switched off "
    "it goes on turning: wait until it stands, hold it, lock it off and follow the local rules.",
    by_hand=lambda g: Worked(("What is stored, what not, and what follows for safety.",), WHY_WHEEL.answer(g)),
    model="It stores energy and gives it back within a cycle, so the speed stays even. It adds none, and in a jam it drives "
    "on. Switched off it goes on turning: wait until it stands, hold it and lock it off by the local rules.",
    misconceptions=(),
    hint="Energy in, energy out, and what remains when the motor is off.",
)  # fmt: skip

SETTINGS = (BALANCED, WHEEL)
QUESTIONS = (COUNTERWEIGHT, FLYWHEEL_INERTIA, RUN_OUT, WHY_WHEEL)
