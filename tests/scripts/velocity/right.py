# An honest student: velocities by sines of the angles between the links.
# mark: 28
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


def rod_direction(angle):
    return math.asin((blade.offset_mm - blade.crank_mm * math.sin(angle)) / blade.rod_mm)


def slider(angle):
    return blade.crank_mm * math.cos(angle) + blade.rod_mm * math.cos(rod_direction(angle))


# %% pin-speed-answer
pin_speed = f"{rack.speed_rpm * math.pi / 30 * rack.crank_mm:.4g} mm/s"
# %% rocker-speed-answer
rocker_speed = f"{rack_speeds()[2]:.4g} rad/s"
# %% coupler-speed-answer
coupler_speed = f"{rack_speeds()[1] * 30 / math.pi:.5g} rpm"
# %% joint-speed-answer
joint_speed = f"{abs(rack_speeds()[2]) * rack.rocker_mm / 1000:.4g} m/s"
# %% torque-ratio-answer
turning, _, rocks = rack_speeds()
torque_ratio = f"{abs(turning / rocks):.4g}"
# %% common-centre-answer
turning, _, rocks = rack_speeds()
common_centre = f"{rack.ground_mm / (1 - turning / rocks):.4g} mm"
# %% coupler-at-limit-answer
coupler_at_limit = f"{-rack.speed_rpm * math.pi / 30 * rack.crank_mm / rack.coupler_mm:.4g} rad/s"
# %% centre-count-answer
centre_count = f"{math.comb(int(centres.links), 2)}"
# %% slider-speed-answer
c, turning = math.radians(blade.crank_angle_deg), blade.speed_rpm * math.pi / 30
along = -turning * blade.crank_mm * math.sin(c - rod_direction(c)) / math.cos(rod_direction(c))
slider_speed = f"{along / 1000:.5g} m/s"
# %% rod-centre-answer
c = math.radians(blade.crank_angle_deg)
rod_centre = f"{slider(c) * math.tan(c):.5g} mm"
# %% rod-at-dead-centre-answer
rod_at_dead_centre = f"{-blade.speed_rpm * math.pi / 30 * blade.crank_mm / blade.rod_mm:.4g} rad/s"
