# An honest student, partly by hand; the prose and the drawing are for a tutor.
# mark: 53
# %% your-id
import math

student_id = "{student}"


def meeting(a, from_a, q, from_q):
    """Where two bars from A and Q meet, on the left as one looks from A to Q."""
    d = math.dist(a, q)
    up = math.acos((from_a**2 + d**2 - from_q**2) / (2 * from_a * d)) + math.atan2(q[1] - a[1], q[0] - a[0])
    return a[0] + from_a * math.cos(up), a[1] + from_a * math.sin(up)


def rack_angles():
    """Crank, coupler and rocker in radians."""
    c = math.radians(rack.crank_angle_deg)
    a = rack.crank_mm * math.cos(c), rack.crank_mm * math.sin(c)
    b = meeting(a, rack.coupler_mm, (rack.ground_mm, 0), rack.rocker_mm)
    return c, math.atan2(b[1] - a[1], b[0] - a[0]), math.atan2(b[1], b[0] - rack.ground_mm)


def rack_speeds():
    """Angular velocities of crank, coupler and rocker."""
    c, k, w = rack_angles()
    turning = rack.speed_rpm * math.pi / 30
    couples = turning * rack.crank_mm * math.sin(w - c) / (rack.coupler_mm * math.sin(k - w))
    return turning, couples, turning * rack.crank_mm * math.sin(c - k) / (rack.rocker_mm * math.sin(w - k))


# %% rocker-angle-answer
c = math.radians(shaker.crank_angle_deg)
b = meeting((shaker.crank_mm * math.cos(c), shaker.crank_mm * math.sin(c)), shaker.coupler_mm, (shaker.ground_mm, 0), shaker.rocker_mm)
rocker_angle = f"{math.degrees(math.atan2(b[1], b[0] - shaker.ground_mm)):.1f} deg"
# %% rocker-speed-answer
rocker_speed = f"{rack_speeds()[2]:.4g} rad/s"
# %% joint-speed-answer
joint_speed = f"{abs(rack_speeds()[2]) * rack.rocker_mm:.4g} mm/s"


# %% slider-x-answer
def slider_x(crank_angle):
    rod = math.asin((chopper.offset_mm - chopper.crank_mm * math.sin(crank_angle)) / chopper.rod_mm)
    return (chopper.crank_mm * math.cos(crank_angle) + chopper.rod_mm * math.cos(rod)) / 1000
