# An honest student, with the functions of Python's own math.
# mark: 19
# %% your-id
import math

student_id = "{student}"


def meeting(a, from_a, q, from_q):
    """Where two bars from A and Q meet, on the left as one looks from A to Q."""
    d = math.dist(a, q)
    up = math.acos((from_a**2 + d**2 - from_q**2) / (2 * from_a * d)) + math.atan2(q[1] - a[1], q[0] - a[0])
    return a[0] + from_a * math.cos(up), a[1] + from_a * math.sin(up)


# %% ways-to-close-answer
c = math.radians(closing.crank_angle_deg)
span = math.dist((closing.ground_mm, 0), (closing.crank_mm * math.cos(c), closing.crank_mm * math.sin(c)))
four = abs(closing.coupler_mm - closing.rocker_mm) < span < closing.coupler_mm + closing.rocker_mm
ways_to_close = "2" if four else "0"
# %% other-circuit-answer
c = math.radians(guide.crank_angle_deg)
a = guide.crank_mm * math.cos(c), -guide.crank_mm * math.sin(c)
x, y = meeting(a, guide.arm_mm, (guide.ground_mm, 0), guide.rocker_mm)
other_circuit = f"{-math.degrees(math.atan2(y, x - guide.ground_mm)):.2f} deg"


# %% slider-x-answer
def slider_x(crank_angle):
    rod = math.asin((chopper.offset_mm - chopper.crank_mm * math.sin(crank_angle)) / chopper.rod_mm)
    return (chopper.crank_mm * math.cos(crank_angle) + chopper.rod_mm * math.cos(rod)) / 1000
