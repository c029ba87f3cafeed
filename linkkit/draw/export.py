"""Pictures to files and to bytes."""

from __future__ import annotations

import io
from pathlib import Path


def save(scene, path, *, dpi=200) -> Path:
    """Write a scene as .svg, .png or .pdf, by the ending of `path`; returns the path.

    Raises
    ------
    ValueError
        For another ending.
    """
    path = Path(path)
    kind = path.suffix.lower().lstrip(".")
    if kind not in ("svg", "png", "pdf"):
        raise ValueError(f"{path.name}: a picture is written as .svg, .png or .pdf")
    path.write_bytes(scene.svg().encode() if kind == "svg" else image(scene, kind, dpi=dpi))
    return path


def image(scene, kind="png", *, dpi=144, width=None) -> bytes:
    """The scene as the bytes of a PNG or PDF file, with its title and description in the file's own data."""
    from .paint_figure import figure

    file = io.BytesIO()
    notes = {"Title": scene.title, ("Description" if kind == "png" else "Subject"): scene.description}
    figure(scene, width=width).savefig(file, format=kind, dpi=dpi, metadata=notes)
    return file.getvalue()
