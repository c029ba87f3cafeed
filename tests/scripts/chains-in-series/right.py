# An honest student: one triangle after the other, in the millimetres of the table.
# mark: 23
# %% your-id
import math

student_id = "{student}"


def meeting(a, from_a, q, from_q):
    """Where two bars from A and Q meet, on the left as one looks from A to Q."""
    d = math.dist(a, q)
    up = math.acos((from_a**2 + d**2 - from_q**2) / (2 * from_a * d)) + math.atan2(q[1] - a[1], q[0] - a[0])
    return a[0] + from_a * math.cos(up), a[1] + from_a * math.sin(up)


def lift_pins():
    c = math.radians(lift.crank_angle_deg)
    a = lift.crank_mm * math.cos(c), lift.crank_mm * math.sin(c)
    b = meeting(a, lift.rod_mm, (2050, 3100), lift.near_arm_mm)
    return [-(x - q) / lift.near_arm_mm * lift.far_arm_mm for x, q in zip(b, (2050, 3100))]


# %% beam-turned-answer
along, up = lift_pins()
beam_turned = f"{math.degrees(math.atan2(up, along)):.2f} deg"
# %% plunger-below-answer
along, up = lift_pins()
plunger_below = f"{math.sqrt(lift.hanger_mm**2 - (along - lift.guide_mm) ** 2) - up:.1f} mm"
# %% lever-direction-answer
c = math.radians(ram.crank_angle_deg)
slope = ram.crank_mm * math.cos(c) / (ram.ground_mm + ram.crank_mm * math.sin(c))
lever_direction = f"{90 - math.degrees(math.atan(slope)):.2f} deg"
# %% ram-at-answer
ram_at = f"{ram.height_mm * slope:.2f} mm"
