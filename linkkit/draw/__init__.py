"""Pictures of linkages: kinematic diagrams, constructions, graphs and animations, each with its words.

A picture is a `Scene`: shapes in machine coordinates and a description. It shows itself in a notebook as
inline SVG, and is written to a file by ``scene.save("picture.svg")``.
"""

from .animation import Animation, animation
from .bodies import free_body_picture
from .centres import centres_picture
from .construction import Construction, construction
from .diagram import line_diagram
from .export import save_page
from .graphs import graph
from .lifted import breakdown_picture
from .scene import Scene
from .vectors import polygon_picture

__all__ = [
    "Animation",
    "Construction",
    "Scene",
    "animation",
    "breakdown_picture",
    "centres_picture",
    "construction",
    "free_body_picture",
    "graph",
    "line_diagram",
    "polygon_picture",
    "save_page",
]
