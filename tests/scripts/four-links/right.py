# An honest student: by hand, with the cosine rule and right-angled triangles, in the numbers of the table.
# mark: 38
# %% your-id
import math

student_id = "{student}"


def triangle(opposite, beside, other):
    return math.acos((beside**2 + other**2 - opposite**2) / (2 * beside * other))


def pin(angle):
    return shaker.crank_mm * math.cos(angle), shaker.crank_mm * math.sin(angle)


# %% link-kinds-answer
link_kinds = {"ground": "", "crank": "", "rod": "", "slider": ""}
joined = {("crank", "ground"): "R", ("crank", "rod"): "R", ("rod", "slider"): "R", ("ground", "slider"): "P"}
for link in link_kinds:
    how = joined.get(tuple(sorted((link, chain.fixed))))
    link_kinds[link] = {"R": "Fixed axis rotation", "P": "translation", None: "combined  motion"}[how]
link_kinds[chain.fixed] = "fixed"
# %% lamp-class-answer
four = [turner.ground_mm, turner.crank_mm, turner.coupler_mm, turner.rocker_mm]
lamp_class = ["double-crank", "crank-rocker", "double-rocker", "rocker-crank"][four.index(min(four))]
# %% hatch-class-answer
four = [closer.ground_mm, closer.crank_mm, closer.coupler_mm, closer.rocker_mm]
outer = max(four) + min(four)
inner = sum(four) - outer
if outer < inner:
    hatch_class = ["double-crank", "crank-rocker", "double-rocker", "rocker-crank"][four.index(min(four))]
else:
    hatch_class = "change point" if outer == inner else "triple-rocker"
# %% rocker-angle-answer
x, y = pin(math.radians(shaker.crank_angle_deg))
d = math.hypot(shaker.ground_mm - x, -y)
up = math.atan2(-y, shaker.ground_mm - x) + triangle(shaker.rocker_mm, d, shaker.coupler_mm)
bx, by = x + shaker.coupler_mm * math.cos(up), y + shaker.coupler_mm * math.sin(up)
rocker_angle = f"{math.degrees(math.atan2(by, bx - shaker.ground_mm)):.0f} degrees"
# %% transmission-here-answer
x, y = pin(math.radians(shaker.crank_angle_deg))
at_b = math.degrees(triangle(math.hypot(shaker.ground_mm - x, -y), shaker.coupler_mm, shaker.rocker_mm))
transmission_here = (min(at_b, 180 - at_b), "deg")
# %% far-limit-answer
far = triangle(shaker.rocker_mm, shaker.ground_mm, shaker.crank_mm + shaker.coupler_mm)
far_limit = f"{math.degrees(far):.4g}°"
# %% swing-answer
ends = [triangle(shaker.coupler_mm + s * shaker.crank_mm, shaker.ground_mm, shaker.rocker_mm) for s in (1, -1)]
swing = f"{ends[0] - ends[1]:.4f} rad"
# %% time-ratio-answer
ends = [triangle(shaker.rocker_mm, shaker.ground_mm, shaker.coupler_mm + s * shaker.crank_mm) for s in (1, -1)]
more = abs(math.degrees(ends[1] - ends[0]))
time_ratio = f"{(180 + more) / (180 - more):.4g}"
# %% least-transmission-answer
b = [
    math.degrees(triangle(shaker.ground_mm + s * shaker.crank_mm, shaker.coupler_mm, shaker.rocker_mm)) for s in (-1, 1)
]
least_transmission = f"{min(b[0], 180 - b[0], b[1], 180 - b[1]):.4g} deg"


# %% rocker-at-answer
def rocker_at(crank_angle):
    x, y = pin(crank_angle)
    d = math.hypot(shaker.ground_mm - x, -y)
    up = math.atan2(-y, shaker.ground_mm - x) + triangle(shaker.rocker_mm, d, shaker.coupler_mm)
    return math.atan2(y + shaker.coupler_mm * math.sin(up), x + shaker.coupler_mm * math.cos(up) - shaker.ground_mm)


# %% slider-at-answer
c = math.radians(chopper.crank_angle_deg)
rise = chopper.offset_mm - chopper.crank_mm * math.sin(c)
slider_at = f"{chopper.crank_mm * math.cos(c) + math.sqrt(chopper.rod_mm**2 - rise**2):.4g} mm"
# %% stroke-answer
reach = [math.sqrt((chopper.rod_mm + s * chopper.crank_mm) ** 2 - chopper.offset_mm**2) for s in (1, -1)]
stroke = (reach[0] - reach[1], "mm")
