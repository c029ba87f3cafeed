# An honest student: the pins by the cosine rule, in the millimetres of the table.
# mark: 19
# %% your-id
import math

student_id = "{student}"


def meeting(a, from_a, q, from_q):
    """Where two bars from A and Q meet, on the left as one looks from A to Q."""
    d = math.dist(a, q)
    up = math.acos((from_a**2 + d**2 - from_q**2) / (2 * from_a * d)) + math.atan2(q[1] - a[1], q[0] - a[0])
    return a[0] + from_a * math.cos(up), a[1] + from_a * math.sin(up)


def eye(turned):
    c = math.radians(turned)
    a = guide.crank_mm * math.cos(c), guide.crank_mm * math.sin(c)
    b = meeting(a, guide.arm_mm, (guide.ground_mm, 0), guide.rocker_mm)
    return [p + guide.eye_mm * (q - p) / guide.arm_mm for p, q in zip(a, b)]


# %% eye-across-answer
eye_across = f"{eye(guide.crank_angle_deg)[0]:.2f} mm"
# %% eye-height-answer
eye_height = f"{eye(guide.crank_angle_deg)[1] / 1000:.5f} m"
# %% eye-table-answer
eye_table = {f"{turned} deg": f"{eye(turned)[1]:.2f} mm" for turned in range(0, 360, 60)}
# %% watt-point-answer
watt_point = f"{arms.link_mm * arms.right_mm / (arms.left_mm + arms.right_mm):.2f} mm"
# %% cell-reach-answer
cell_reach = f"{(cell.long_mm**2 - cell.short_mm**2) / cell.near_mm:.2f} mm"
