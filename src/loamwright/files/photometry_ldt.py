"""Reader of EULUMDAT photometric files (.ldt): one value a line, in a fixed order.

C planes are counted from across the lamp: C90 lies along its length, and is horizontal angle 0
here. Where a file lists several sets of lamps, the first is taken. A decimal comma is read, for
the format comes from where people write one and no line holds two values.
"""

from __future__ import annotations

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

_HEIGHTS = tuple(f"height of the luminous area C{a}" for a in (0, 90, 180, 270))
_ALONG = -90.0  # [deg] from C planes (0 across the lamp) to angles from the lamp's length


class _Lines:
    """The lines of the file, taken one by one."""

    def __init__(self, text: str, trouble: Trouble) -> None:
        self.lines = lines_of(text)
        self.at = 0
        self.trouble = trouble

    def text(self, field: str) -> str:
        """The next line as text."""
        if self.at >= len(self.lines):
            self.trouble.fail(
                f"the file ends where {field} should stand: it is cut short, or a count before "
                "it is too large",
                field,
                len(self.lines),
            )
        self.at += 1
        return self.lines[self.at - 1].strip()

    def number(
        self, field: str, low: float, high: float | None = None, *, whole: bool = False
    ) -> float:
        """The next line as a number within limits; a wrong one is noted."""
        text = self.text(field)
        if text.count(",") == 1 and "." not in text:
            text = text.replace(",", ".")
        value = self.trouble.number(text, field, self.at)
        if value is None:
            return 1.0
        if whole and value != int(value):
            self.trouble.add(f"{value:g} is not a whole number", field, self.at)
            return 1.0
        if value < low or (high is not None and value > high):
            limits = f"at least {low:g}" if high is None else f"from {low:g} to {high:g}"
            self.trouble.add(f"{value:g} cannot be; {limits} is right", field, self.at)
            return 1.0
        return value

    def several(
        self, count: int, field: str, low: float, high: float | None = None
    ) -> tuple[list[float], list[int]]:
        """Several lines as numbers, and where they stand."""
        values, lines = [], []
        for _ in range(count):
            values.append(self.number(field, low, high))
            lines.append(self.at)
        return values, lines


def read_eulumdat(text: str, file: str) -> Photometry:
    """Read the text of a EULUMDAT file; ``file`` names it in messages.

    Raises `InputError` with the place of everything that is wrong.
    """
    trouble = Trouble(file)
    lines = _Lines(text, trouble)
    lines.text("company")
    lines.number("type indicator", 0, 3, whole=True)
    symmetry = int(lines.number("symmetry indicator", 0, 4, whole=True))
    plane_count = int(lines.number("number of C planes", 1, MAX_ANGLES, whole=True))
    planes_line = lines.at
    lines.number("distance between C planes", 0, 360)
    angle_count = int(lines.number("number of intensities a plane", 2, MAX_ANGLES, whole=True))
    lines.number("distance between intensities", 0, 180)
    names = [lines.text(f) for f in ("report number", "luminaire name", "luminaire number",
                                     "file name", "date")]  # fmt: skip
    for field in ("length of the luminaire", "width of the luminaire", "height of the luminaire"):
        lines.number(field, 0)
    length = lines.number("length of the luminous area", 0) / 1000.0
    width = lines.number("width of the luminous area", 0) / 1000.0
    height = max(lines.number(field, 0) for field in _HEIGHTS) / 1000.0
    lines.number("downward flux fraction", 0)
    lines.number("light output ratio", 0)
    factor = lines.number("conversion factor for intensities", 0)
    if factor == 0:
        trouble.add("0 cannot be; 1 is usual", "conversion factor for intensities", lines.at)
    lines.number("tilt during measurement", -360, 360)
    lumens, watts = _lamps(lines, trouble)
    for _ in range(10):
        lines.number("direct ratios", 0)
    if plane_count % {2: 2, 3: 4, 4: 4}.get(symmetry, 1):
        trouble.add(
            f"symmetry {symmetry} needs an even number of C planes that meets C90 and C180, "
            f"not {plane_count}",
            "number of C planes", planes_line,
        )  # fmt: skip
    if plane_count * angle_count > MAX_VALUES:
        trouble.add(f"more than {MAX_VALUES} intensities are not read", "number of C planes",
                    planes_line)  # fmt: skip
    trouble.stop()

    planes, plane_lines = lines.several(plane_count, "C angles", 0, 360)
    vertical, vertical_lines = lines.several(angle_count, "G angles", 0, 180)
    trouble.stop()
    check_rising(trouble, planes, plane_lines, "C angles")
    check_vertical(trouble, vertical, vertical_lines)
    used, folds = _used(symmetry, planes, plane_lines, trouble)
    trouble.stop()

    rows = []
    scale = factor * lumens / 1000.0
    for _ in used:
        row, _ = lines.several(angle_count, "intensities", 0)
        rows.append([value * scale for value in row])
    if lines.at < len(lines.lines):
        trouble.add(
            f"{len(lines.lines) - lines.at} more lines than the counts allow", "intensities",
            lines.at + 1,
        )  # fmt: skip
    trouble.stop()
    v, h, table = written_out(vertical, used, rows, folds, turn=0.0 if symmetry == 1 else _ALONG)
    return Photometry(
        label=(names[1] or file)[:80],
        vertical=v,
        horizontal=h,
        candela=table,
        size=(length, width or length, height),
        lumens=lumens,
        watts=watts or None,
        round=width == 0.0,
        file=file,
    )


def _lamps(lines: _Lines, trouble: Trouble) -> tuple[float, float]:
    """Lumens and watts of the first set of lamps."""
    sets = int(lines.number("number of sets of lamps", 1, 20, whole=True))
    first: tuple[float, float] | None = None
    for _ in range(sets):
        # A negative number of lamps marks absolute values; the flux then is the luminaire's.
        lines.number("number of lamps", -10_000, 10_000, whole=True)
        lines.text("type of lamps")
        lumens = lines.number("lumens of the lamps", 0)
        if lumens == 0:
            trouble.add("0 lm cannot be: intensities are given per 1000 lm", "lumens of the lamps",
                        lines.at)  # fmt: skip
        lines.text("colour of light")
        lines.text("colour rendering")
        watts = lines.number("watts", 0)
        first = first or (lumens, watts)
    assert first is not None
    return first


def _used(
    symmetry: int, planes: list[float], lines: list[int], trouble: Trouble
) -> tuple[list[float], list[Fold]]:
    """The planes whose values stand in the file, and the mirrors left to the reader."""
    count = len(planes)
    if planes[0] != 0.0 or planes[-1] >= 360.0:
        trouble.add(
            f"C angles run from {planes[0]:g} to {planes[-1]:g}; from 0 to below 360 is right",
            "C angles", lines[0],
        )  # fmt: skip
        return [], []
    if symmetry == 0:
        return planes, []
    if symmetry == 1:
        return [0.0], []
    folds: list[Fold]
    if symmetry == 2:
        used, ends, folds = planes[: count // 2 + 1], (0.0, 180.0), [across_0_180]
    elif symmetry == 3:
        start = 3 * count // 4
        used = [a - 360.0 for a in planes[start:]] + planes[: count // 4 + 1]
        ends, folds = (-90.0, 90.0), [across_90_270]
    else:
        used, ends, folds = planes[: count // 4 + 1], (0.0, 90.0), [across_90_270, across_0_180]
    if count == 1 or (used[0], used[-1]) != ends:
        trouble.add(
            f"with symmetry {symmetry} the measured planes must run from C{ends[0] % 360:g} to "
            f"C{ends[1]:g}, but they run from C{used[0] % 360:g} to C{used[-1]:g}",
            "C angles", lines[0],
        )  # fmt: skip
    return used, folds
