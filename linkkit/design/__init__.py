"""Choosing the dimensions: closed forms where there are any, else a wide search, least squares and a check by motion.

Aims and limits are plain values in lists; every call returns `Designs`, best first, with their defects said in words.
"""

from .aims import (
    EvenTorque,
    Follow,
    LeastShaking,
    Level,
    Lift,
    Measure,
    Straight,
    Stroke,
    Swing,
    Through,
    TimeRatio,
)
from .checking import judge
from .cognate import cognates
from .curves import CurveIndex, curve_index
from .functions import chebyshev_spacing, four_bar_for_function, structural_error
from .limits import Grashof, Length, Lengths, Room, Transmission
from .paths import four_bar_for_path
from .poses import Pose, four_bar_for_poses, pin_for, pivot_for
from .result import Design, Designs, Progress
from .search import improve, search
from .space import Dimensions, Sketch
from .straight import straight_line_for, straightness
from .turning_back import crank_rocker_for, quick_return_for, slider_crank_for

__all__ = [
    "CurveIndex", "Design", "Designs", "Dimensions", "EvenTorque", "Follow", "Grashof", "LeastShaking", "Length", "Lengths", "Level",
    "Lift", "Measure", "Pose", "Progress", "Room", "Sketch", "Straight", "Stroke", "Swing", "Through", "TimeRatio",
    "Transmission", "chebyshev_spacing", "cognates", "crank_rocker_for", "curve_index", "four_bar_for_function", "four_bar_for_path",
    "four_bar_for_poses",
    "improve", "judge", "pin_for", "pivot_for", "quick_return_for", "search", "slider_crank_for", "straight_line_for",
    "straightness", "structural_error",
]  # fmt: skip
