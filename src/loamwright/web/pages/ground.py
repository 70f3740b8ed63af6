"""The Ground page: the layers as a column, their depth, volume and what is known of their weight.

More of the ground (water by depth, decomposers) joins as further panels of this page: `PANELS`.
"""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from loamwright import editing, units
from loamwright.engine.lower import air_box
from loamwright.habitat.ground import Layer
from loamwright.habitat.habitat import Habitat
from loamwright.report.plain import clean
from loamwright.web.base import Page
from loamwright.web.parts import GroundColumn
from loamwright.web.scene_data import LAYER_COLORS
from loamwright.web.shell import View

Panel = Callable[[View], None]


def column(habitat: Habitat, system: str) -> dict[str, Any]:
    """The column from the floor up, and its table."""
    low, high = air_box(habitat)
    area = float((high[0] - low[0]) * (high[1] - low[1]))
    drawn, rows = [], []
    base, volume = 0.0, 0.0
    known: list[tuple[float, float]] = []
    for layer in habitat.ground.layers:
        size = area * layer.depth
        volume += size
        weight = moist_weight(layer, size)
        if weight is not None:
            known.append(weight)
        drawn.append(
            {
                "name": clean(layer.name, 40),
                "from": base,
                "to": base + layer.depth,
                "color": LAYER_COLORS.get(layer.kind, "#5a4a3a"),
                "kind": layer.kind,
            }
        )
        rows.append(
            [
                clean(layer.name, 40),
                _what(layer),
                units.show(layer.depth, "length", system),
                units.show(size, "volume", system),
                _weighed(weight, system),
            ]
        )
        base += layer.depth
    whole = habitat.enclosure.inside[2]
    note = (
        "Volumes are those of the settled layers over the inside of the linings; plants' roots and "
        "sunk pieces are not taken off. A mix's weight is that of its components as they lie in a "
        "watered ground, parts by volume; that of the other layers is not known here."
    )
    return {
        "layers": drawn, "height": whole, "depth": base,
        "columns": ["layer", "what it is", "depth", "volume", "moist weight"],
        "rows": rows[::-1],
        "sum": ["together", "", units.show(base, "length", system),
                units.show(volume, "volume", system), _sum(known, len(rows), system)],
        "of": f"{units.show(base, 'length', system)} of {units.show(whole, 'length', system)} "
              "inside height",
        "note": note,
        "none": "" if habitat.ground.layers else "This habitat has no ground.",
    }  # fmt: skip


def moist_weight(layer: Layer, volume: float) -> tuple[float, float] | None:
    """Least and most weight [kg] of a mix of components, None where a part's is not known."""
    if not layer.parts:
        return None
    found = editing.entries("components")
    total = sum(share for _, share in layer.parts)
    low = high = 0.0
    for key, share in layer.parts:
        span = found[key].moist_density if key in found else (None, None)
        ends = [x for x in span if x is not None]
        if not ends or total <= 0:
            return None
        low += share / total * min(ends) * volume
        high += share / total * max(ends) * volume
    return low, high


def _what(layer: Layer) -> str:
    if layer.parts:
        told = ", ".join(
            f"{share:g} {clean(key.replace('-', ' '), 30)}" for key, share in layer.parts
        )
        reused = "".join(f"; {share:.0%} from {clean(name, 30)}" for name, share in layer.reuse)
        return f"{layer.kind}: {told}{reused}"
    return f"{layer.kind}{f' of {clean(layer.leaf, 30)}' if layer.leaf else ''}"


def _weighed(weight: tuple[float, float] | None, system: str) -> str:
    if weight is None:
        return "not known"
    low, high = (units.show(w, "mass", system) for w in weight)
    return low if low == high else f"{low} to {high}"


def _sum(known: list[tuple[float, float]], count: int, system: str) -> str:
    if not known:
        return "not known"
    both = (sum(w[0] for w in known), sum(w[1] for w in known))
    return ("" if len(known) == count else "at least ") + _weighed(both, system)


def _column_panel(view: View) -> None:
    def data() -> dict[str, Any]:
        assert view.desk.habitat is not None
        return column(view.desk.habitat, view.system)

    part = GroundColumn(column=data())
    view.on("draft", lambda: part.give(column=data()) if view.desk.habitat else None)


PANELS: list[Panel] = [_column_panel]
"""What the page shows, from the top."""


def build(view: View) -> None:
    """Lay the page out."""
    for panel in PANELS:
        panel(view)


PAGE = Page("ground", "Ground", 3, build)
