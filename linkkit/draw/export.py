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
    kind = ending(path, "svg", "png", "pdf")
    path = Path(path)
    path.write_bytes(scene.svg().encode() if kind == "svg" else image(scene, kind, dpi=dpi))
    return path


def ending(path, *kinds) -> str:
    """The kind of a file by its ending.

    Raises
    ------
    ValueError
        If it is none of those.
    """
    kind = Path(path).suffix.lower().lstrip(".")
    if kind not in kinds:
        *most, last = (f".{k}" for k in kinds)
        raise ValueError(f"{Path(path).name}: it is written as {', '.join(most)}{' or ' * bool(most)}{last}")
    return kind


def notes(title, description, kind) -> dict:
    """Title and description as the data of a file of that kind take them."""
    return {"Title": title, "Subject" if kind == "pdf" else "Description": description}


def image(scene, kind="png", *, dpi=144, width=None) -> bytes:
    """The scene as the bytes of a PNG or PDF file, with its title and description in the file's own data."""
    from .paint_figure import figure

    file = io.BytesIO()
    told = notes(scene.title, scene.description, kind)
    figure(scene, width=width).savefig(file, format=kind, dpi=dpi, metadata=told)
    return file.getvalue()


def save_page(path, title, *pictures) -> Path:
    """Write one HTML page with any number of pictures, each with its title and its words; it needs no other file.

    Parameters
    ----------
    path : str or Path
    title : str
    *pictures : Scene, Drawing, Animation, Construction or Graph

    Raises
    ------
    ValueError
        If `path` does not end in .html.

    Examples
    --------
    >>> import linkkit as lk
    >>> from linkkit.draw import line_diagram, save_page
    >>> _ = save_page("bar.html", "A four-bar", line_diagram(lk.four_bar(0.4, 0.1, 0.35, 0.25)))  # doctest: +SKIP
    """
    from .animation import page

    ending(path, "html", "htm")
    parts = (
        f'<section style="break-inside:avoid">{_heading(p)}{p._repr_html_()}{_words(p)}</section>' for p in pictures
    )
    path = Path(path)
    path.write_text(page(title, "".join(parts)), encoding="utf-8")
    return path


def _words(picture):
    """The description, unless the picture's own HTML has it as text."""
    told = hasattr(picture, "stages") or hasattr(picture, "html")
    return "" if told else f"<p>{escape(picture.description)}</p>"


def _heading(picture):
    title = getattr(picture, "title", "")
    return f'<h2 style="font-size:17px;break-after:avoid">{escape(title)}</h2>' if title else ""
