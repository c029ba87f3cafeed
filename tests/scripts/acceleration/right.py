# An honest student: normal and tangential parts, and the Coriolis part, written out.
# mark: 23
# %% your-id
import math

student_id = "{student}"


def rod_direction(angle):
    return math.asin((blade.offset_mm - blade.crank_mm * math.sin(angle)) / blade.rod_mm)


def slider(angle):
    return blade.crank_mm * math.cos(angle) + blade.rod_mm * math.cos(rod_direction(angle))


def speeding_up(chopper):
    """Acceleration of the slider in m/s^2, angular acceleration of the rod: their parts written out."""
    c, turning = math.radians(chopper.crank_angle_deg), chopper.speed_rpm * math.pi / 30
    rod, r, long = rod_direction(c), chopper.crank_mm / 1000, chopper.rod_mm / 1000
    swings = -r * turning * math.cos(c) / (long * math.cos(rod))
    grows = (r * turning**2 * math.sin(c) / long + swings**2 * math.sin(rod)) / math.cos(rod)
    return -r * turning**2 * math.cos(c) - long * (grows * math.sin(rod) + swings**2 * math.cos(rod)), grows


def at_the_block():
    """Distance QA in metres, the angle from lever to crank, the crank's angular velocity."""
    c = math.radians(lever.crank_angle_deg)
    across, up = lever.crank_mm * math.cos(c), lever.ground_mm + lever.crank_mm * math.sin(c)
    return math.hypot(across, up) / 1000, c - math.atan2(up, across), lever.speed_rpm * math.pi / 30


def lever_and_block():
    """Angular velocity of the lever, velocity of the block along it."""
    out, between, turning = at_the_block()
    return lever.crank * turning * math.cos(between) / out, -lever.crank * turning * math.sin(between)


# %% pin-acceleration-answer
pin_acceleration = f"{(rack.speed_rpm * math.pi / 30) ** 2 * rack.crank_mm / 1000:.4g} m/s^2"
# %% slider-acceleration-answer
slider_acceleration = f"{speeding_up(blade)[0]:.5g} m/s2"
# %% rod-acceleration-answer
rod_acceleration = f"{speeding_up(blade)[1]:.5g} rad/s^2"
# %% lever-speed-answer
out, between, turning = at_the_block()
swings = lever.crank * turning * math.cos(between) / out
lever_speed = f"{swings:.5g} rad/s"
# %% block-speed-answer
out, between, turning = at_the_block()
slides = -lever.crank * turning * math.sin(between)
block_speed = f"{slides:.5g} m/s"
# %% coriolis-answer
swings, slides = lever_and_block()
coriolis = f"{abs(2 * swings * slides):.5g} m/s^2"
# %% coriolis-side-answer
swings, slides = lever_and_block()
side = "left" if swings * slides > 0 else "right"
coriolis_side = f"to the {side}, seen along the lever outwards"
# %% lever-acceleration-answer
out, between, turning = at_the_block()
swings, slides = lever_and_block()
across = -lever.crank * turning**2 * math.sin(between)
lever_acceleration = f"{(across - 2 * swings * slides) / out:.5g} rad/s^2"
