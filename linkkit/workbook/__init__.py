"""Panels for notebooks: predict, explore, explain, practise, and the student's own record."""

from .exploring import explore
from .practice import practice
from .predicting import explain, predict
from .record import keep_in, my_record
from .sketching import sketch_path
from .stepping import step
from .still import still
from .trading import trade_off

__all__ = [
    "explain",
    "explore",
    "keep_in",
    "my_record",
    "practice",
    "predict",
    "sketch_path",
    "step",
    "still",
    "trade_off",
]
