"""The electricity there is: from what the file says to numbers in SI, with defaults by units."""

from __future__ import annotations

from collections.abc import Sequence

from loamwright.files.build_context import COMMON_PRACTICE, Build
from loamwright.files.schema_mains import MainsPart
from loamwright.habitat.enclosure import Enclosure, Vec3
from loamwright.habitat.mains import Mains

USUAL = {"metric": (230.0, 16.0, 0.03), "us": (120.0, 15.0, 0.005)}
"""Voltage [V], fuse [A] and residual current [A] by units shown; common practice."""


def build_mains(build: Build, part: MainsPart | None, box: Enclosure) -> Mains:
    """The outlet and what hangs on it."""
    part = part or MainsPart.model_validate({})
    voltage, fuse, residual = USUAL[build.system]
    wide, deep, high = box.inside
    side = wide + box.panel("right").thickness

    def number(key: str, usual: float, kind: str, why: str = COMMON_PRACTICE) -> float:
        given = getattr(part, key)
        if given is None:
            build.default(f"mains.{key}", build.show(usual, kind), why)
            return usual
        return float(given)

    def place(key: str, usual: Vec3, shown: str) -> Vec3:
        given: Sequence[float] | None = getattr(part, key)
        if given is None:
            build.default(f"mains.{key}", shown)
            return usual
        return (float(given[0]), float(given[1]), float(given[2]))

    by_units = f"usual where units are {build.system}"
    board = place("board", (side + 0.05, 0.8 * deep, 2.0 * high / 3.0), "on the right side")
    _outside(build, part, box)
    for key in ("fan_supply", "pump_supply"):
        given = getattr(part, key)
        if given is not None and given <= 0.0:
            build.say(("mains", key), f"{given.text} gives nothing")
    return Mains(
        number("voltage", voltage, "voltage", by_units), number("fuse", fuse, "current", by_units),
        number("residual", residual, "current", by_units),
        place("outlet", (side + 0.3, deep + box.panel("back").thickness, 0.0), "behind, to the right"),
        board, number("fans", 12.0, "voltage"), number("pump", 24.0, "voltage"),
        None if part.fan_supply is None else float(part.fan_supply),
        None if part.pump_supply is None else float(part.pump_supply),
        number("others", 0.0, "power", "nothing is said"), build.system,
    )  # fmt: skip


def _outside(build: Build, part: MainsPart, box: Enclosure) -> None:
    """Say where sockets are put inside the box, where they have no business."""
    for key in ("outlet", "board"):
        given = getattr(part, key)
        if given is not None and all(
            0.0 < v < size for v, size in zip(given, box.inside, strict=True)
        ):
            message = "lies inside the enclosure; sockets, supplies and controls stay outside, dry"
            build.say(("mains", key), message)
