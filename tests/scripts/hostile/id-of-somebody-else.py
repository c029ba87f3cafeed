# Another id is typed in. The numbers are those of the id that it was handed in under, so it costs an honest script nothing.
# mark: 38
# %% your-id
import math

student_id = "somebody-else"


def triangle(opposite, beside, other):
    return math.acos((beside**2 + other**2 - opposite**2) / (2 * beside * other))


def pin(angle):
    return shaker.crank_mm * math.cos(angle), shaker.crank_mm * math.sin(angle)
