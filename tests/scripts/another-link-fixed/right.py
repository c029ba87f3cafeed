# An honest student: classes by the sum of shortest and longest, the cylinder by the cosine rule.
# mark: 18
# %% your-id
import math

student_id = "{student}"

# %% cylinder-direction-answer
c = math.radians(cylinder.crank_angle_deg)
up, across = cylinder.ground_mm + cylinder.crank_mm * math.sin(c), cylinder.crank_mm * math.cos(c)
cylinder_direction = f"{90 - math.degrees(math.atan(across / up)):.2f} deg"
# %% cylinder-length-answer
c = math.radians(cylinder.crank_angle_deg + 90)
q, r = cylinder.ground_mm, cylinder.crank_mm
cylinder_length = f"{math.sqrt(q * q + r * r - 2 * q * r * math.cos(c)):.4g} mm"
