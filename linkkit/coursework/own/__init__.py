"""What a lecturer's own assignment file is made of: a machine drawn anew for each student, and what to ask of it.

    from linkkit.coursework import own

    MACHINE = own.beside(__file__, "sluice.toml")
    MINE = own.drawn(MACHINE, id="sluice-mine", points={"A": (range(-40, 50, 10), range(160, 210, 10))}, ...)
    QUESTIONS = (own.place(MINE, "gate_height", point="G", axis="y"), ...)

`linkkit lesson MACHINE.toml` writes such a file. It stands beside the assignment's notebook in the nbgrader course,
is released with it, and `find_assignment` finds it there.
"""

from ..answers import Choice, Function, Number, Table
from ..givens import Given, Givens, Setting
from ..question import Misconception, Question, Worked, one_by_one
from ..tolerance import Tolerance, calculated, coded, stepwise
from ..tolerance import drawn as drawn_by_hand
from .asked import first_class, four_link_chains, least_transmission, place, velocity
from .drawing import beside, drawn
from .finding import OwnAssignmentError, find, look_in, own_names
from .limits import travel
from .pushing import holding
from .story import story

__all__ = [
    "Choice", "Function", "Given", "Givens", "Misconception", "Number", "OwnAssignmentError", "Question", "Setting", "Table",
    "Tolerance", "Worked", "beside", "calculated", "coded", "drawn", "drawn_by_hand", "find", "first_class",
    "four_link_chains", "holding", "least_transmission", "look_in", "one_by_one", "own_names", "place", "stepwise", "story", "travel",
    "velocity",
]  # fmt: skip
