"""Reader of IESNA LM-63 photometric files (1986, 1991, 1995, 2002, 2019).

Angles are those of type C photometry: vertical from straight down, horizontal counter-clockwise
in the horizontal plane. Types A and B, whose angles turn about other axes, are refused.
A table of how output falls with tilt (TILT=INCLUDE) is checked but not applied: the values are
those of the lamp as it was measured.
"""

from __future__ import annotations

import re
from dataclasses import dataclass

from loamwright.files.photometry_table import (
    MAX_ANGLES,
    MAX_VALUES,
    Fold,
    Photometry,
    across_0_180,
    across_90_270,
    check_rising,
    check_vertical,
    written_out,
)
from loamwright.files.trouble import Trouble, lines_of

_FOOT = 0.3048
_TYPES = {1: "C", 2: "B", 3: "A"}


@dataclass(frozen=True, slots=True)
class _Word:
    text: str
    line: int
    column: int


class _Words:
    """The numbers after the TILT line, in order."""

    def __init__(self, lines: list[str], first: int, trouble: Trouble) -> None:
        self.words = [
            _Word(found.group(), first + i, found.start() + 1)
            for i, line in enumerate(lines)
            for found in re.finditer(r"[^\s,]+", line)
        ]
        self.at = 0
        self.last_line = first + len(lines) - 1
        self.trouble = trouble

    def next(self, field: str) -> tuple[float | None, int]:
        """The next number and its line; a file that ends here is cut short."""
        if self.at >= len(self.words):
            self.trouble.fail(
                f"the file ends where {field} should stand: it is cut short, or a count before "
                "it is too large",
                field,
                self.last_line,
            )
        word = self.words[self.at]
        self.at += 1
        return self.trouble.number(word.text, field, word.line, word.column), word.line

    def plain(
        self,
        field: str,
        low: float | None = None,
        high: float | None = None,
        *,
        whole: bool = False,
        above: bool = False,
    ) -> float:
        """A number within limits; a wrong one is noted and replaced by a harmless one."""
        value, line = self.next(field)
        if value is None:
            return 1.0
        if whole and value != int(value):
            self.trouble.add(f"{value:g} is not a whole number", field, line)
            return 1.0
        if (low is not None and (value < low or (above and value == low))) or (
            high is not None and value > high
        ):
            limits = f"above {low:g}" if above else f"at least {low:g}"
            if high is not None:
                limits = f"from {low:g} to {high:g}"
            self.trouble.add(f"{value:g} cannot be; {limits} is right", field, line)
            return 1.0
        return value

    def several(self, count: int, field: str) -> tuple[list[float], list[int]]:
        """Several numbers and their lines; wrong ones are noted."""
        values, lines = [], []
        for _ in range(count):
            value, line = self.next(field)
            values.append(0.0 if value is None else value)
            lines.append(line)
        return values, lines


def read_ies(text: str, file: str) -> Photometry:
    """Read the text of an LM-63 file; ``file`` names it in messages.

    Raises `InputError` with the place of everything that is wrong.
    """
    trouble = Trouble(file)
    lines = lines_of(text)
    tilt = next((i for i, s in enumerate(lines) if s.strip().upper().startswith("TILT")), None)
    if tilt is None:
        trouble.fail(
            "there is no TILT= line: the file is no LM-63 file, or is cut short", "TILT", len(lines)
        )
    words = _Words(lines[tilt + 1 :], tilt + 2, trouble)
    _tilt(lines[tilt].strip(), tilt + 1, words, trouble)

    lamps = words.plain("number of lamps", 1, 10_000, whole=True)
    lumens, lumens_line = words.next("lumens per lamp")
    if lumens is not None and lumens != -1 and lumens <= 0:
        trouble.add(
            f"{lumens:g} lm cannot be; a lamp's lumens, or -1 for absolute values, is right",
            "lumens per lamp", lumens_line,
        )  # fmt: skip
    multiplier = words.plain("candela multiplier", 0, above=True)
    vertical_count = int(words.plain("number of vertical angles", 2, MAX_ANGLES, whole=True))
    horizontal_count = int(words.plain("number of horizontal angles", 1, MAX_ANGLES, whole=True))
    kind, kind_line = words.next("photometric type")
    if kind in (2, 3):
        trouble.add(
            f"type {_TYPES[int(kind)]} photometry is not read (its angles turn about another "
            "axis); ask for the file in type C",
            "photometric type", kind_line,
        )  # fmt: skip
    elif kind is not None and kind != 1:
        trouble.add(f"{kind:g} is no photometric type; 1 (type C) is right", "photometric type",
                    kind_line)  # fmt: skip
    unit = words.plain("units type", 1, 2, whole=True)
    width, length, height = (words.plain(f) for f in ("width", "length", "height"))
    ballast = words.plain("ballast factor", 0, above=True)
    third = words.plain("ballast-lamp photometric factor", 0)
    watts = words.plain("input watts", 0)
    if vertical_count * horizontal_count > MAX_VALUES:
        trouble.add(f"more than {MAX_VALUES} intensities are not read", "number of angles")
    trouble.stop()

    vertical, v_lines = words.several(vertical_count, "vertical angles")
    horizontal, h_lines = words.several(horizontal_count, "horizontal angles")
    trouble.stop()
    check_vertical(trouble, vertical, v_lines)
    folds = _symmetry(horizontal, h_lines, trouble)
    trouble.stop()

    # Only the editions of 1986 and 1991 multiply by the third factor: later ones keep the place
    # for the future (and in 2019 for how the file was made).
    factor = multiplier * ballast * (third if _edition(lines) <= 1991 else 1.0)
    rows = []
    for _ in horizontal:
        row, row_lines = words.several(vertical_count, "intensities")
        for value, line in zip(row, row_lines, strict=True):
            if value < 0:
                trouble.add(f"{value:g} cd is negative", "intensities", line)
        rows.append([value * factor for value in row])
    if words.at < len(words.words):
        extra = words.words[words.at]
        trouble.add(
            f"{len(words.words) - words.at} more numbers than the counts of angles allow, from "
            f"{extra.text[:30]!r} on",
            "intensities", extra.line, extra.column,
        )  # fmt: skip
    trouble.stop()
    v, h, table = written_out(vertical, horizontal, rows, folds)
    metre = _FOOT if unit == 1 else 1.0
    return Photometry(
        label=_label(lines[:tilt]) or file,
        vertical=v,
        horizontal=h,
        candela=table,
        size=(abs(length) * metre, abs(width) * metre, abs(height) * metre),
        lumens=None if lumens is None or lumens < 0 else lumens * lamps,
        watts=watts or None,
        round=width < 0 or length < 0,
        file=file,
    )


def _tilt(line: str, number: int, words: _Words, trouble: Trouble) -> None:
    """The TILT line, and the table it may include."""
    found = re.fullmatch(r"TILT\s*=\s*(.*)", line, re.IGNORECASE)
    value = found.group(1).strip() if found else ""
    if value.upper() == "NONE":
        return
    if value.upper() != "INCLUDE":
        trouble.fail(
            f"{value[:40]!r}: a tilt table in another file is not read; NONE or INCLUDE is right",
            "TILT",
            number,
        )
    words.plain("lamp-to-luminaire geometry", 1, 3, whole=True)
    pairs = int(words.plain("number of tilt pairs", 1, MAX_ANGLES, whole=True))
    trouble.stop()
    angles, lines = words.several(pairs, "tilt angles")
    check_rising(trouble, angles, lines, "tilt angles")
    factors, lines = words.several(pairs, "tilt factors")
    for value_, at in zip(factors, lines, strict=True):
        if value_ < 0:
            trouble.add(f"{value_:g} is negative", "tilt factors", at)


def _symmetry(angles: list[float], lines: list[int], trouble: Trouble) -> list[Fold]:
    """Which mirrors the horizontal angles leave to the reader."""
    field = "horizontal angles"
    check_rising(trouble, angles, lines, field)
    ends = (angles[0], angles[-1])
    if ends == (0.0, 0.0) or ends == (0.0, 360.0):
        return []
    if ends == (0.0, 90.0):
        return [across_90_270, across_0_180]
    if ends == (0.0, 180.0):
        return [across_0_180]
    if ends == (90.0, 270.0):
        return [across_90_270]
    trouble.add(
        f"horizontal angles run from {angles[0]:g} to {angles[-1]:g}; "
        "0 alone, 0 to 90, 0 to 180, 90 to 270 or 0 to 360 is right",
        field, lines[0],
    )  # fmt: skip
    return []


def _edition(lines: list[str]) -> int:
    """The year of the standard named in the first line; files that name none are of 1986."""
    found = re.match(r"\s*IES(?:NA)?\s*:?\s*(?:LM-63-)?(\d{4}|\d{2})\b", lines[0], re.IGNORECASE)
    if not found:
        return 1986
    year = int(found.group(1))
    return year + 1900 if year < 100 else year


def _label(lines: list[str]) -> str:
    """The luminaire's own name, if it gives one."""
    for key in ("LUMINAIRE", "LAMP", "LUMCAT"):
        for line in lines:
            found = re.match(rf"\s*\[{key}\]\s*(.+)", line, re.IGNORECASE)
            if found:
                return found.group(1).strip()[:80]
    return ""
