"""The nbgrader course. Run nbgrader's commands in this folder."""

from linkkit.marking.for_students import HideFromStudents

c = get_config()  # noqa: F821 (nbgrader gives this name to the file that it reads)

c.CourseDirectory.course_id = "linkkit"
# an answer cell keeps its first line (None, to be replaced) or its docstring, and must run as it is handed out
c.ClearSolutions.code_stub = {"python": "# your own lines, if you need any"}
# a test cell that was deleted comes back, and gives no marks instead of staying open
c.OverwriteCells.add_missing_cells = True
# the right pictures that tutors see beside drawings stay out of students' feedback
c.GenerateFeedback.preprocessors.append(HideFromStudents)
