"""How large a picture is, from the first bytes of its file: no picture of a student's is decoded where the key is.

Sources: PNG (ISO/IEC 15948, 11.2.2), GIF89a (logical screen descriptor), WebP (RFC 9649, section 2), JPEG (ITU-T T.81, B.2.2).
"""

from __future__ import annotations

import struct
from collections.abc import Callable

NO_SIZE = 0xC4, 0xC8, 0xCC  # of JPEG's markers C0 to CF, those that begin no frame


def size_of(kind: str, data: bytes) -> tuple[int, int] | None:
    """Width and height in pixels; None if the file is not of that kind ("image/png" or the like).

    Examples
    --------
    >>> size_of("image/gif", b"GIF89a" + bytes([40, 0, 30, 0]))
    (40, 30)
    """
    try:
        found = READ[kind](data)
    except (struct.error, IndexError):  # cut short
        return None
    return found if found and min(found) > 0 else None


def _png(data: bytes):
    return struct.unpack(">II", data[16:24]) if data[:8] + data[12:16] == b"\x89PNG\r\n\x1a\nIHDR" else None


def _gif(data: bytes):
    return struct.unpack("<HH", data[6:10]) if data[:6] in (b"GIF87a", b"GIF89a") else None


def _webp(data: bytes):
    kind = data[12:16] if data[:4] + data[8:12] == b"RIFFWEBP" and len(data) >= 30 else b""
    if kind == b"VP8X":
        return 1 + int.from_bytes(data[24:27], "little"), 1 + int.from_bytes(data[27:30], "little")
    if kind == b"VP8L" and data[20] == 0x2F:
        bits = struct.unpack("<I", data[21:25])[0]
        return 1 + (bits & 0x3FFF), 1 + (bits >> 14 & 0x3FFF)
    if kind == b"VP8 " and data[23:26] == b"\x9d\x01\x2a":
        return tuple(side & 0x3FFF for side in struct.unpack("<HH", data[26:30]))
    return None


def _jpeg(data: bytes):
    at = 2 if data[:2] == b"\xff\xd8" else len(data)
    while data[at] == 0xFF:
        marker, length = data[at + 1], struct.unpack(">H", data[at + 2 : at + 4])[0]
        if 0xC0 <= marker <= 0xCF and marker not in NO_SIZE:
            return struct.unpack(">HH", data[at + 5 : at + 9])[::-1]
        at += 1 if marker == 0xFF else 2 + length
    return None


READ: dict[str, Callable] = {"image/png": _png, "image/gif": _gif, "image/webp": _webp, "image/jpeg": _jpeg}
