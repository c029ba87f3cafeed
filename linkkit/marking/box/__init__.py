"""What runs inside the sandbox: a warm process, the children it forks, and the student's cells in them.

Nothing here is trusted once a student's code has run; only plain numbers and words leave it.
"""
