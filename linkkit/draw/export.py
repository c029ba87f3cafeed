"""Pictures to files and to bytes."""

from __future__ import annotations

import io
from html import escape
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


def save_page(path, title, *pictures) -> Path:
    """Write one HTML page with any number of pictures, each with its title and its words; it needs no other file.

    Parameters
    ----------
    path : str or Path
    title : str
    *pictures : Scene, Animation, Construction or Graph

    Examples
    --------
    >>> import linkkit as lk
    >>> from linkkit.draw import line_diagram, save_page
    >>> _ = save_page("bar.html", "A four-bar", line_diagram(lk.four_bar(0.4, 0.1, 0.35, 0.25)))  # doctest: +SKIP
    """
    from .animation import page

    parts = (f"<section>{_heading(p)}{p._repr_html_()}<p>{escape(p.description)}</p></section>" for p in pictures)
    path = Path(path)
    path.write_text(page(title, "".join(parts)), encoding="utf-8")
    return path


def _heading(picture):
    title = getattr(picture, "title", "")
    return f'<h2 style="font-size:17px">{escape(title)}</h2>' if title else ""
