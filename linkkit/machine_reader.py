"""Reading a machine file: each mistake with its line, what is wrong and what would be right."""

from __future__ import annotations

import re
import tomllib
from dataclasses import replace
from decimal import Decimal, InvalidOperation
from difflib import get_close_matches

import numpy as np

from .errors import LinkageError, MachineError
from .linkage import Input, Linkage, Slide

SIZE = Decimal(10) ** 12  # numbers of a file are smaller
LARGEST = 200_000  # bytes: far more than any machine needs
SHIFT = {"m": 0, "cm": -2, "mm": -3}
KEYS = {"name", "about", "unit", "fixed", "output", "points", "links", "slides", "inputs", "masses"}


class MachineReader:
    """One file while it is read; knows on which line each name stands."""

    def __init__(self, name, raw):
        self.name = name
        if len(raw) > LARGEST:
            self.fail(None, f"the file has {len(raw)} bytes; a machine file has at most {LARGEST}")
        try:
            self.text = raw.decode("utf-8-sig")
        except UnicodeDecodeError:
            self.fail(None, "this is not a text file in UTF-8; a machine file is plain TOML text")
        try:
            self.table = tomllib.loads(self.text, parse_float=_decimal)
        except tomllib.TOMLDecodeError as error:
            self.fail(self._line_in(str(error)), f"this is not TOML: {_toml_words(error)}")
        except RecursionError:
            self.fail(None, "this is not a machine file: its brackets are nested too deep")
        except ValueError:
            self.fail(self._longest_number(), "a number has more digits than a machine file can need")

    def fail(self, line, sentence):
        where = f"{self.name}, line {line}" if line else self.name
        raise MachineError(f"{where}: {sentence}")

    def _line_in(self, said):
        """The line in what the TOML parser said; where it names none, the file ends too early."""
        found = re.search(r"line (\d+)", said)
        return int(found[1]) if found else len(self.text.split("\n")) if "end of document" in said else None

    def _longest_number(self):
        lines = [max(map(len, re.findall(r"\d+", text)), default=0) for text in self.text.split("\n")]
        return lines.index(max(lines)) + 1

    def line(self, section, key=None):
        """The line of a key in a section (None: the top of the file), or of the section itself."""
        inside, best = section is None, None
        for n, text in enumerate(self.text.split("\n"), 1):
            heading = re.match(r"\s*\[+\s*([^\]]+?)\s*\]+", text)
            if heading and not re.match(r"\s*\[[^\]]*,", text):
                names = [part.strip(" \"'") for part in heading[1].split(".")]
                inside = section is not None and names[0] == section
                if inside and (best is None or key in names[1:]):
                    best = n
            elif inside and key is not None and re.match(rf"\s*[\"']?{re.escape(key)}[\"']?\s*[=.]", text):
                return n
        return best

    def linkage(self):
        """The linkage that the file describes."""
        self._keys()
        self.shift = SHIFT[self.unit()]
        points = {p: self.spot("points", p, xy) for p, xy in self.section("points").items()}
        self.points = points
        links = {link: self.names("links", link, ps, "points") for link, ps in self.section("links").items()}
        for link, carried in links.items():
            for p in carried:
                if p not in points:
                    self.fail(
                        self.line("links", link),
                        f"link {link} carries point {p}, which is not under [points]; {self._near(p, points)}",
                    )
        slides = tuple(self.slide(name, table) for name, table in self.section("slides", {}).items())
        inputs = tuple(self.input(name, table) for name, table in self.section("inputs", {}).items())
        if not inputs:
            self.fail(
                self.line("inputs"),
                "there is no input: add a table [inputs.NAME] with a pin or a slide, and its two links",
            )
        fixed = self.text_of("fixed")
        try:
            made = Linkage(points, links, fixed, slides, inputs, self.table.get("output"),
                           self.table.get("name", ""), self.table.get("about", ""))  # fmt: skip
        except LinkageError as error:
            self.fail(self._line_of(error), str(error))
        self._one_freedom_each(made)
        return self._with_masses(made)

    def _with_masses(self, made):
        if "masses" not in self.table:
            return made
        from .machine_masses import read_masses

        return replace(made, masses=read_masses(self, made))

    def _keys(self):
        for key in self.table:
            if key not in KEYS:
                self.fail(
                    self.line(None, key) or self.line(key),
                    f"{key!r} means nothing here; {_keys_words(key, KEYS)}",
                )
        for key in ("name", "about", "unit", "fixed", "output"):
            if key in self.table and not isinstance(self.table[key], str):
                self.fail(self.line(None, key), f"{key} must be a text in quotes, not {self.table[key]!r}")

    def unit(self):
        unit = self.table.get("unit", "m")
        if unit not in SHIFT:
            self.fail(self.line(None, "unit"), f"unit is one of {', '.join(SHIFT)}, not {unit!r}")
        return unit

    def text_of(self, key):
        if key not in self.table:
            self.fail(None, f'{key} is missing: name the {key} link, as in {key} = "frame"')
        return self.table[key]

    def section(self, name, default=None):
        table = self.table.get(name, default)
        if table is None:
            self.fail(None, f"there is no [{name}] table")
        if not isinstance(table, dict):
            self.fail(self.line(None, name), f"{name} must be a table [{name}], not {_kind(table)}")
        return table

    def metres(self, value):
        return float((value if isinstance(value, Decimal) else Decimal(value)).scaleb(self.shift))

    def numbers(self, section, key, given, what):
        good = isinstance(given, list) and len(given) == 2 and all(
            isinstance(x, (int, Decimal)) and not isinstance(x, bool) for x in given
        )  # fmt: skip
        if not good:
            self.fail(
                self.line(section, key),
                f"{what} must be two numbers in brackets, as in [12.5, 40], not {_shown(given)}{_slip(given)}",
            )
        if not all(map(_is_number, given)):
            self.fail(
                self.line(section, key),
                f"{what} must be finite numbers of a sensible size, not {_shown(given)}",
            )
        return given

    def spot(self, section, key, given):
        """A place in the sketch: two numbers, or the name of a point."""
        if isinstance(given, str) and section != "points":
            if given not in self.points:
                self.fail(
                    self.line(section, key),
                    f"{key} names point {given}, which is not under [points]; {self._near(given, self.points)}",
                )
            return self.points[given]
        x, y = self.numbers(section, key, given, f"point {key}" if section == "points" else f"the place in {key}")
        return complex(self.metres(x), self.metres(y))

    def names(self, section, key, given, what):
        if not isinstance(given, list) or not all(isinstance(p, str) for p in given):
            self.fail(
                self.line(section, key),
                f'{key} must list {what} by name, as in ["A", "B"], not {_shown(given)}',
            )
        return tuple(given)

    def slide(self, name, table):
        self._table("slides", name, table, {"block", "on", "through", "toward", "angle_deg", "direction"})
        for key in ("block", "on"):
            if not isinstance(table.get(key), str):
                self.fail(self.line("slides", name), f"slide {name} must say its {key}: the name of a link")
            if table[key] not in self.table["links"]:
                meant = self._near(table[key], self.table["links"])
                self.fail(self.line("slides", name), f"slide {name}: its {key} {table[key]!r} is not a link; {meant}")
        if "through" not in table:
            self.fail(self.line("slides", name), f"slide {name} must say through which point its line runs")
        through = self.spot("slides", name, table["through"])
        return Slide(name, table["block"], table["on"], through, self._direction(name, table, through))

    def _direction(self, name, table, through):
        ways = [k for k in ("toward", "angle_deg", "direction") if k in table]
        if len(ways) != 1:
            self.fail(
                self.line("slides", name),
                f"slide {name} needs one direction: toward = a point, or angle_deg = a number",
            )
        if ways == ["angle_deg"]:
            if not _is_number(table["angle_deg"]):
                self.fail(
                    self.line("slides", name),
                    f"slide {name}: angle_deg must be a number, not {_shown(table['angle_deg'])}",
                )
            return _unit_at(float(table["angle_deg"]))
        if ways == ["direction"]:
            along = complex(*map(float, self.numbers("slides", name, table["direction"], "the direction")))
            return along if abs(abs(along) - 1) < 1e-14 else along / (abs(along) or np.nan)
        along = self.spot("slides", name, table["toward"]) - through
        if along == 0:
            self.fail(
                self.line("slides", name),
                f"slide {name}: toward is the point through which the line runs; name another",
            )
        return along / abs(along)

    def input(self, name, table):
        self._table("inputs", name, table, {"pin", "slide", "links", "span", "span_deg", "span_rad"})
        ways = [k for k in ("pin", "slide") if k in table]
        links = self.names("inputs", name, table.get("links"), "its two links")
        if len(ways) != 1 or len(links) != 2 or not isinstance(table[ways[0]], str):
            self.fail(
                self.line("inputs", name),
                f"input {name} needs one pin or one slide, and the two links it stands between",
            )
        kind = "angle" if ways == ["pin"] else "distance"
        return Input(name, kind, table[ways[0]], links, self._span(name, table, kind))

    def _span(self, name, table, kind):
        given = {k: table[k] for k in ("span", "span_deg", "span_rad") if k in table}
        if not given:
            return None
        key, value = next(iter(given.items()))
        if len(given) > 1 or (key == "span") != (kind == "distance"):
            self.fail(
                self.line("inputs", name),
                f"input {name}: a pin has span_deg, a slide has span, in the file's unit",
            )
        low, high = self.numbers("inputs", name, value, key)
        if not low < high:
            self.fail(self.line("inputs", name), f"input {name}: {key} must run from a smaller to a larger number")
        scale = {"span": self.metres, "span_deg": lambda x: float(np.radians(float(x))), "span_rad": float}[key]
        return scale(low), scale(high)

    def _table(self, section, name, table, keys):
        if not isinstance(table, dict):
            self.fail(self.line(section, name), f"{name} must be a table [{section}.{name}], not {_kind(table)}")
        for key in table:
            if key not in keys:
                self.fail(
                    self.line(section, key) or self.line(section, name),
                    f"{key!r} means nothing under [{section}.{name}]; {_keys_words(key, keys)}",
                )

    def _near(self, name, known):
        close = get_close_matches(name, known, 1, 0.5)
        return f"did you mean {close[0]}?" if close else f"there are {', '.join(known)}"

    def _line_of(self, error):
        """The line of what a LinkageError says is wrong."""
        section, *key = error.where or (None,)
        if key:
            return self.line(section, *key)
        return self.line(None, section) if section else None

    def _one_freedom_each(self, made):
        from .mobility import too_many_inputs

        if sentence := too_many_inputs(made):
            self.fail(self.line("inputs", made.inputs[-1].name), sentence)


LINES = "a line is NAME = VALUE, or a heading such as [points]"
HINTS = {  # what the TOML parser says: what it mostly means in a machine file
    "invalid value": 'names stand in quotes, as in ["A", "B"]',
    "unclosed array": "a comma between two entries is missing, or the closing bracket, as in [12.5, 40]",
    "expected '='": f'{LINES}; a name with a space stands in quotes, as in "near arm" = ["P", "B"]',
    "invalid statement": LINES,
    "cannot overwrite": "the name stands here for the second time; give each a name of its own",
    "cannot declare": "the heading stands here for the second time; put all of it under the first one",
    "expected newline": "one entry a line, and decimals with a point, not a comma",
    "illegal character": "a quotation mark at the end of a text is missing",
    "unterminated string": "a quotation mark at the end of a text is missing",
}


def _toml_words(error):
    """What the TOML parser said, with what it mostly means in a machine file."""
    said = str(error).split(" (at")[0]
    said = said[:1].lower() + said[1:]
    hint = next((words for start, words in HINTS.items() if said.startswith(start)), "")
    return f"{said}; {hint}" if hint else said


def _slip(given):
    """What two numbers in brackets are often mistaken for."""
    if not isinstance(given, list):
        return ""
    if any(isinstance(x, str) for x in given):
        return ": numbers stand without quotes and without a unit, which is said once at the top of the file"
    return ": decimals have a point, and there is no third coordinate" if len(given) > 2 else ""


def _keys_words(key, keys):
    close = get_close_matches(key.lower(), keys, 1, 0.5)
    return f"{f'did you mean {close[0]}? ' if close else ''}the keys are {', '.join(sorted(keys))}"


def _decimal(digits):
    """A number of the file, to the last digit; too large or too small an exponent is infinity or nothing."""
    try:
        return Decimal(digits)
    except InvalidOperation:
        return Decimal(float(digits))


def _is_number(x):
    """Whether it is a finite number, of a size that fits in a sketch."""
    return isinstance(x, (int, Decimal)) and not isinstance(x, bool) and Decimal(x).is_finite() and abs(x) < SIZE


def _unit_at(degrees):
    """The unit vector at an angle in degrees, exact at the quarter turns."""
    quarter = {0: 1 + 0j, 90: 1j, 180: -1 + 0j, 270: -1j}.get(degrees % 360)
    return quarter if quarter is not None else complex(np.exp(1j * np.radians(degrees)))


def _kind(value):
    return {list: "a list", str: "a text", bool: "true or false"}.get(type(value), "a number")


def _shown(value):
    text = re.sub(r"Decimal\('([^']*)'\)", r"\1", repr(value))
    return "nothing" if value is None else text[:60]
