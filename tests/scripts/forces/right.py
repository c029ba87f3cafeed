# An honest student: the triangle of forces at the blade, torque by power.
# mark: 23
# %% your-id
import math

student_id = "{student}"


def rod_direction(angle):
    return math.asin((loaded.offset_mm - loaded.crank_mm * math.sin(angle)) / loaded.rod_mm)


def slider(angle):
    return loaded.crank_mm * math.cos(angle) + loaded.rod_mm * math.cos(rod_direction(angle))


def speeding_up(chopper):
    """Acceleration of the slider in m/s^2, angular acceleration of the rod: their parts written out."""
    c, turning = math.radians(chopper.crank_angle_deg), chopper.speed_rpm * math.pi / 30
    rod, r, long = rod_direction(c), chopper.crank_mm / 1000, chopper.rod_mm / 1000
    swings = -r * turning * math.cos(c) / (long * math.cos(rod))
    grows = (r * turning**2 * math.sin(c) / long + swings**2 * math.sin(rod)) / math.cos(rod)
    return -r * turning**2 * math.cos(c) - long * (grows * math.sin(rod) + swings**2 * math.cos(rod)), grows


def gains():
    """The blade's movement along x for a small turn of the crank, in metres a radian."""
    c = math.radians(loaded.crank_angle_deg)
    return -loaded.crank * math.sin(c - rod_direction(c)) / math.cos(rod_direction(c))


# %% rod-force-answer
rod = rod_direction(math.radians(loaded.crank_angle_deg))
rod_force = f"{loaded.load_newton / math.cos(rod):.5g} N"
# %% side-push-answer
rod = rod_direction(math.radians(loaded.crank_angle_deg))
side_push = f"{-loaded.load_newton * math.tan(rod):.5g} N"
# %% holding-torque-answer
holding_torque = f"{loaded.load_newton * gains():.5g} N m"
# %% blade-force-answer
blade_force = f"{loaded.blade_kg * speeding_up(loaded)[0]:.5g} N"
# %% running-torque-answer
running_torque = f"{(loaded.load_newton + loaded.blade_kg * speeding_up(loaded)[0]) * gains():.5g} N m"
# %% speed-effect-answer
speed_effect = f"{(faster.then_rpm / faster.now_rpm) ** 2:.4g}"
# %% flywheel-inertia-answer
turning = flywheel.speed_rpm * math.pi / 30
flywheel_inertia = f"{flywheel.energy / (flywheel.allowed_percent / 100) / turning**2:.5g} kg m^2"
# %% energy-left-answer
energy_left = f"{flywheel.energy / (flywheel.allowed_percent / 100) / 2000:.5g} kJ"
