"""Whole cohorts: rehearsing a paper, marking it, and the gradebook."""
