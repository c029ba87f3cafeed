"""Questions to be answered with one's own code: linkkit kept out of reach while such an answer is worked out.

In a cohort's sandbox the package is not there at all. On nbgrader's path and in the student's own notebook it is taken away
for as long as the answer's function runs, so that all three say the same about a script that leans on it.
"""

from __future__ import annotations

import contextlib
import sys
from collections.abc import Iterator, MutableMapping

NOT_HERE = "this question wants code of your own: linkkit is not there when it is marked, as its statement says"


class Absent:
    """What stands where linkkit, or something of it, was: any use of it says why it is gone."""

    def __getattr__(self, name: str):
        raise ImportError(NOT_HERE)

    def __call__(self, *words, **more):
        raise ImportError(NOT_HERE)


class Block:
    """An import hook that refuses linkkit, with the reason."""

    @staticmethod
    def find_spec(name, path=None, target=None):
        """Refuse linkkit; leave everything else to the next."""
        if name.partition(".")[0] == "linkkit":
            raise ImportError(NOT_HERE)


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
    >>> import linkkit as lk
    >>> with without_linkkit():
    ...     import linkkit
    Traceback (most recent call last):
    ImportError: this question wants code of your own: linkkit is not there when it is marked, as its statement says
    """
    away = {name: module for name, module in sys.modules.items() if _ours(name)}
    named = {name: value for name, value in (namespace or {}).items() if _from_linkkit(value)}
    for name in away:
        del sys.modules[name]
    sys.meta_path.insert(0, Block)
    (namespace if namespace is not None else {}).update(dict.fromkeys(named, Absent()))
    try:
        yield
    finally:
        sys.meta_path[:] = [finder for finder in sys.meta_path if finder is not Block]
        sys.modules.update(away)
        (namespace if namespace is not None else {}).update(named)
