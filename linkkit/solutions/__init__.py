"""Worked solutions and feedback pages for one student's numbers, from the same functions as the marks."""

from .page import render, write_solution

__all__ = ["render", "write_solution"]
