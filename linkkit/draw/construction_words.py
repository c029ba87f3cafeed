"""The sentences of a construction."""

from __future__ import annotations

from .units import length_text, significant


def size(metres, scale) -> str:
    """A length of the machine, and what it measures on paper."""
    if scale == 1:
        return length_text(metres)
    return f"{length_text(metres, digits=4)} ({significant(1000 * metres / scale, 1, places=1)} mm on paper)"


def arc_words(board, centre, p, radius) -> str:
    """The compasses set to a length, the needle in a known pin."""
    where = f"each {centre}" if board.several and board.name(centre, 0) != centre else centre
    return f"Compasses at {centre}{p} = {size(radius, board.scale)}, needle in {where}: draw an arc."


def crossing_words(board, p, refused) -> str:
    """Which crossing is taken, and which is not."""
    if board.several:
        return f"Number the crossings of one circuit: {board.name(p, 0)} to {board.name(p, len(board.moments) - 1)}."
    if not refused:
        return f"{p} is the crossing on the circuit that was sketched."
    chosen = f"They cross twice. {p} is the crossing on the circuit that was sketched; "
    return f"{chosen}{p}′ is refused: it belongs to the other circuit."
