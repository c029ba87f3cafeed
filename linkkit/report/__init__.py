"""What a cohort's marks say about the questions, and records that print: for lecturers and tutors."""
