"""The question bank: machines with numbers of the student's own, and what can be asked about each."""
