"""Messages over a pipe: JSON behind its length, with a cap on the length, a deadline, and nothing but plain values."""

from __future__ import annotations

import json
import os
import select
import struct
import time

HEAD = struct.Struct(">I")
LEFT_A_THREAD = 96  # how a script's process ends that would leave a thread behind
LARGEST, LARGEST_REQUEST = 8_000_000, 64_000_000  # bytes of one message: out of the sandbox, and into it


class BrokenFrame(RuntimeError):
    """What came through the pipe is not a message: too long, cut short, too late or not JSON."""


def send(fd: int, message) -> None:
    """Write one message whole."""
    body = json.dumps(message, allow_nan=False).encode()
    data = memoryview(HEAD.pack(len(body)) + body)
    while data:
        data = data[os.write(fd, data) :]


def receive(fd: int, *, deadline: float | None = None, largest: int = LARGEST):
    """Read one message; None when the other end has closed.

    Parameters
    ----------
    deadline : float, optional
        On the clock of `time.monotonic`.

    Raises
    ------
    BrokenFrame
        If it is no message, or not here in time.
    """
    head = _exactly(fd, HEAD.size, deadline)
    if not head:
        return None
    length = HEAD.unpack(head)[0] if len(head) == HEAD.size else largest + 1
    if length > largest:
        raise BrokenFrame(f"a message of {length} bytes; at most {largest} are read")
    body = _exactly(fd, length, deadline)
    if len(body) < length:
        raise BrokenFrame("a message was cut short")
    return understood(body)


def understood(body: bytes) -> dict:
    """The table that a message is."""
    try:
        message = json.loads(body, parse_constant=_no_such_number)
    except (ValueError, RecursionError) as error:
        raise BrokenFrame(f"a message is not JSON ({type(error).__name__})") from None
    if not isinstance(message, dict):
        raise BrokenFrame("a message is no table")
    return message


def size(message: dict) -> int:
    """How many bytes a message has when it is sent on, which can be many more than it came with.

    Raises
    ------
    BrokenFrame
        If it can't be sent on: it holds a number that is infinite, or lists within lists without end.
    """
    try:
        return HEAD.size + len(json.dumps(message, allow_nan=False))
    except (ValueError, RecursionError) as error:
        raise BrokenFrame(f"a message can't be sent on ({type(error).__name__})") from None


def _no_such_number(name: str):
    raise ValueError(name)


def _exactly(fd: int, count: int, deadline: float | None) -> bytes:
    """So many bytes, or fewer if the other end closes."""
    data = b""
    while len(data) < count:
        if deadline is not None and not select.select([fd], [], [], max(0.0, deadline - time.monotonic()))[0]:
            raise BrokenFrame("no message came in time")
        piece = os.read(fd, min(count - len(data), 1 << 16))
        if not piece:
            break
        data += piece
    return data
