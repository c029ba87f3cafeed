"""For nbgrader_config.py: what tutors are shown is left out of students' feedback.

nbgrader makes the pages for both from one marked notebook. Nothing heavy is loaded here, since every nbgrader command reads
the configuration.
"""

from __future__ import annotations

TAG = "for-the-tutor"  # of a cell


class HideFromStudents:
    """A step of `nbgrader generate_feedback`: take out the cells that are for the tutor.

    Examples
    --------
    In nbgrader_config.py: ``c.GenerateFeedback.preprocessors.append(HideFromStudents)``
    """

    @staticmethod
    def class_traits(config: bool = True) -> dict:
        """Nothing of it can be configured; nbgrader asks."""
        return {}

    def __call__(self, notebook, resources):
        """The notebook without those cells."""
        notebook.cells = [cell for cell in notebook.cells if TAG not in cell.metadata.get("tags", ())]
        return notebook, resources
