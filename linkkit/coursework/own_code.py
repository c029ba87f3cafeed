"""Questions to be answered with one's own code: linkkit kept out of reach while such an answer is worked out.

In a cohort's sandbox the package is not there at all. On nbgrader's path and in the student's own notebook it is taken away
for as long as the answer's function runs, so that all three say the same about a script that leans on it.
"""

from __future__ import annotations

import contextlib
import sys
from collections.abc import Iterator, MutableMapping
from types import ModuleType

NOT_HERE = "this question wants code of your own: linkkit is not there when it is marked, as its statement says"


class Absent:
    """What stands where linkkit, or something of it, was.

    It can be called, indexed and calculated with, and stays what it is: a cell that uses the package for another question
    goes on, and what it defines besides is there. Only where a number or a truth is wanted of it does it say why it is gone.
    """

    def _gone(self, *words):
        raise ImportError(NOT_HERE)

    def _same(self, *words, **more):
        return self

    def __getattr__(self, name: str):
        if name.startswith("__"):  # what numpy, copying and the like ask about
            raise AttributeError(name)
        return self

    def __iter__(self):
        return iter(())

    def __format__(self, form: str) -> str:
        return "?"

    __call__ = __getitem__ = __array_ufunc__ = __array_function__ = _same
    __float__ = __int__ = __complex__ = __index__ = __bool__ = __array__ = __len__ = _gone
    __lt__ = __le__ = __gt__ = __ge__ = _gone
    __add__ = __radd__ = __sub__ = __rsub__ = __mul__ = __rmul__ = __truediv__ = __rtruediv__ = _same
    __pow__ = __rpow__ = __mod__ = __rmod__ = __neg__ = __pos__ = __abs__ = _same


ABSENT = Absent()


def stub() -> ModuleType:
    """A module to find in place of linkkit: it has every name, and nothing behind it."""
    made = ModuleType("linkkit", NOT_HERE)
    made.__getattr__ = nothing
    return made


def nothing(name: str) -> Absent:
    """What a name of the package gives."""
    if name.startswith("__"):
        raise AttributeError(name)
    return ABSENT


def _ours(module_name) -> bool:
    return isinstance(module_name, str) and module_name.partition(".")[0] == "linkkit"


def _from_linkkit(value) -> bool:
    """Is it linkkit, a module of it, or a function or class out of it? Not the student's numbers or paper."""
    if isinstance(value, type(sys)):
        return _ours(value.__name__)
    return callable(value) and _ours(getattr(value, "__module__", None)) and hasattr(value, "__qualname__")


@contextlib.contextmanager
def without_linkkit(namespace: MutableMapping | None = None) -> Iterator[None]:
    """No linkkit for the time being: not to import, and not by a name that stands in `namespace`.

    Examples
    --------
    >>> with without_linkkit():
    ...     import linkkit as lk
    ...     float(lk.facts(lk.four_bar(0.4, 0.1, 0.35, 0.25)).swing)
    Traceback (most recent call last):
    ImportError: this question wants code of your own: linkkit is not there when it is marked, as its statement says
    """
    names = {} if namespace is None else namespace
    away = {name: module for name, module in sys.modules.items() if _ours(name)}
    named = {name: value for name, value in names.items() if _from_linkkit(value)}
    for name in away:
        del sys.modules[name]
    sys.modules["linkkit"] = stub()
    names.update(dict.fromkeys(named, ABSENT))
    try:
        yield
    finally:
        del sys.modules["linkkit"]
        sys.modules.update(away)
        names.update(named)
