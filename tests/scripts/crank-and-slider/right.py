# An honest student, by right-angled triangles, in the numbers of the table.
# mark: 20
# %% your-id
import math

student_id = "{student}"


def rod_direction(angle):
    return math.asin((chopper.offset_mm - chopper.crank_mm * math.sin(angle)) / chopper.rod_mm)


def slider(angle):
    return chopper.crank_mm * math.cos(angle) + chopper.rod_mm * math.cos(rod_direction(angle))


# %% slider-at-answer
slider_at = f"{slider(math.radians(chopper.crank_angle_deg)):.4g} mm"
# %% rod-angle-answer
rod_angle = (math.degrees(rod_direction(math.radians(chopper.crank_angle_deg))), "degrees")
# %% twelve-positions-answer
twelve_positions = {f"{turned} deg": f"{slider(math.radians(turned)):.2f}mm" for turned in range(0, 360, 30)}
# %% stroke-answer
reach = [math.sqrt((chopper.rod_mm + s * chopper.crank_mm) ** 2 - chopper.offset_mm**2) for s in (1, -1)]
stroke = f"{(reach[0] - reach[1]) / 10:.3f} cm"
# %% inner-dead-centre-answer
inner_dead_centre = f"{180 + math.degrees(math.asin(chopper.offset_mm / (chopper.rod_mm - chopper.crank_mm))):.2f}°"
# %% lever-swing-answer
half = math.degrees(math.asin(lever.crank_mm / lever.ground_mm))
lever_swing = f"{2 * half:.2f} deg"
# %% lever-ratio-answer
lever_ratio = f"{(180 + 2 * half) / (180 - 2 * half):.4g}"
