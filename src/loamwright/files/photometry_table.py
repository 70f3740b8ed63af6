"""What a photometric file says, in one form whatever format it came in."""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass

from loamwright.files.trouble import Trouble

MAX_ANGLES = 2000
"""Most angles of one sort; a quarter of a degree round the circle takes 1441."""

MAX_VALUES = 200_000
"""Most intensities in one file."""

_STEP = 1e-6  # [rad] how steeply the table drops to zero where the file's angles end


@dataclass(frozen=True, slots=True)
class Photometry:
    """A measured light distribution.

    ``vertical`` [rad] rises from 0 (the way the lamp shines) to pi; ``horizontal`` [rad] rises
    from 0 (along the lamp's ``length``) to 2 pi, counter-clockwise seen from behind the lamp; the
    direction of (v, h) is::

        cos v aim + sin v (cos h along + sin h (-aim) x along)

    ``candela`` has a row for each horizontal angle [cd], symmetries written out and directions
    the file does not cover at 0. ``lumens`` of the lamps [lm] and ``watts`` [W], None where the
    file gives none; ``size`` of the luminous opening (length, width, height) [m], ``round`` if it
    is circular.
    """

    label: str
    vertical: tuple[float, ...]
    horizontal: tuple[float, ...]
    candela: tuple[tuple[float, ...], ...]
    size: tuple[float, float, float]
    lumens: float | None = None
    watts: float | None = None
    round: bool = False
    file: str = ""


def check_rising(
    trouble: Trouble, angles: Sequence[float], lines: Sequence[int], field: str
) -> None:
    """Angles must rise [deg]."""
    for before, after, line in zip(angles, angles[1:], lines[1:], strict=False):
        if after - before < 1e-6:
            trouble.add(f"angles must rise, but {after:g} follows {before:g}", field, line)
            return


def check_vertical(trouble: Trouble, angles: Sequence[float], lines: Sequence[int]) -> None:
    """Vertical angles must cover the lower half, the upper half or the sphere [deg]."""
    field = "vertical angles"
    check_rising(trouble, angles, lines, field)
    if angles[0] not in (0.0, 90.0) or angles[-1] not in (90.0, 180.0) or len(angles) < 2:
        trouble.add(
            f"vertical angles run from {angles[0]:g} to {angles[-1]:g}; "
            "0 to 90, 90 to 180 or 0 to 180 is right",
            field,
            lines[0],
        )


Fold = Callable[[float], float]


def across_0_180(angle: float) -> float:
    """Mirror at the plane through 0 and 180 deg."""
    return -angle


def across_90_270(angle: float) -> float:
    """Mirror at the plane through 90 and 270 deg."""
    return 180.0 - angle


def written_out(
    vertical: Sequence[float],
    horizontal: Sequence[float],
    rows: Sequence[Sequence[float]],
    folds: Sequence[Fold],
    turn: float = 0.0,
) -> tuple[tuple[float, ...], tuple[float, ...], tuple[tuple[float, ...], ...]]:
    """Write symmetries out over the whole sphere.

    Parameters
    ----------
    vertical, horizontal : sequence of float
        Angles as in the file [deg].
    rows : sequence (horizontal, vertical)
        Values as in the file.
    folds : sequence of callables
        Mirrors the file leaves to the reader, in order.
    turn : float
        Added to the horizontal angles at the end [deg].

    Returns
    -------
    tuple
        Vertical angles 0..pi, horizontal angles 0..2 pi [rad], rows.
    """
    planes: dict[float, tuple[float, ...]] = {}
    for angle, row in zip(horizontal, rows, strict=True):
        planes.setdefault(round(angle % 360.0, 9) % 360.0, tuple(row))
    for fold in folds:
        for angle, row in list(planes.items()):
            planes.setdefault(round(fold(angle) % 360.0, 9) % 360.0, row)
    turned = sorted((round((a + turn) % 360.0, 9) % 360.0, row) for a, row in planes.items())
    if turned[0][0] != 0.0:
        # No plane at 0: the value there lies on the way from the last plane to the first.
        (last, low), (first, high) = turned[-1], turned[0]
        share = (360.0 - last) / (360.0 - last + first)
        between = tuple(a + (b - a) * share for a, b in zip(low, high, strict=True))
        turned.insert(0, (0.0, between))
    turned.append((360.0, turned[0][1]))
    v = [math.radians(a) for a in vertical]
    before: list[float] = [] if v[0] == 0.0 else [0.0, v[0] - _STEP]
    after: list[float] = [] if vertical[-1] == 180.0 else [v[-1] + _STEP, math.pi]
    zeros_before, zeros_after = (0.0,) * len(before), (0.0,) * len(after)
    return (
        tuple(before + v + after),
        tuple(math.radians(a) for a, _ in turned),
        tuple(zeros_before + row + zeros_after for _, row in turned),
    )
