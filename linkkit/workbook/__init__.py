"""Panels for notebooks: predict, explore, explain, and the student's own record."""

from .exploring import explore
from .predicting import explain, predict
from .record import keep_in, my_record
from .still import still

__all__ = ["explain", "explore", "keep_in", "my_record", "predict", "still"]
