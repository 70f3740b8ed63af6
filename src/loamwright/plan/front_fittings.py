"""What doors run in, hang on, are gripped and locked by: by whether they slide or are hinged.

All of it common practice, no source; the fittings' maker and the glazier decide.
"""

from __future__ import annotations

import math
from dataclasses import replace

from loamwright.habitat.enclosure import Panel
from loamwright.habitat.habitat import Habitat
from loamwright.plan.box_joints import FREE_AXES, doors_slide, panel_boxes
from loamwright.plan.cut_parts import DOOR
from loamwright.plan.front_parts import front_parts
from loamwright.plan.keys import millimetres
from loamwright.plan.lines import Line
from loamwright.plan.whole_pieces import lengths_bought

TALL = 0.60
"""Height of a door up to which two hinges serve, else three [m]."""

SEAL_WASTE = 0.05
"""Share of the seal round hinged doors lost in cutting [1]."""

Size = tuple[float, float]


def door_sizes(habitat: Habitat, panel: Panel) -> list[Size]:
    """Width and height of each door of a panel [m]; none where it has no doors or no room for them."""
    if panel.doors < 1:
        return []
    if panel.side == "front":
        return [(p.width, p.height) for p in front_parts(habitat, {})[0] if p.kind == DOOR]
    low, high = panel_boxes(habitat)[panel.side]
    wide, tall = (high[k] - low[k] for k in FREE_AXES[panel.side])
    return [((wide - (panel.doors - 1) * panel.gap) / panel.doors, tall)] * panel.doors


def door_lines(habitat: Habitat, panel: Panel) -> list[Line]:
    """Fittings of a panel's doors: those of the front slide or are hinged, all others are hinged."""
    doors = door_sizes(habitat, panel)
    if not doors:
        return []
    if panel.side == "front" and doors_slide(habitat):
        return _sliding(habitat, panel, doors)
    return _hinged(panel, doors)


def _sliding(habitat: Habitat, panel: Panel, doors: list[Size]) -> list[Line]:
    wide, pane = habitat.enclosure.inside[0], millimetres(panel.thickness)
    told = pane.replace("mm", " mm")
    uses = (panel.side,)
    out = [
        _whole(habitat, Line(f"panels/runner-{which}-{pane}", "panels",
                             f"double runner profile, {which}, for panes of {told}", wide, "m",
                             why="the inside width out of one length", uses=uses), [wide])
        for which in ("lower", "upper")
    ]  # fmt: skip
    if len(doors) > 1:
        overlaps = [tall for _, tall in doors[1:]]
        seal = Line(f"panels/strip-seal-{pane}", "panels", "brush or lip seal strip between panes "
                    f"that overlap, for panes of {told}", math.fsum(overlaps), "m", uses=uses,
                    why="a door's height for each overlap, each out of one length")  # fmt: skip
        out.append(_whole(habitat, seal, overlaps))
    out.append(Line("panels/finger-grip", "panels", "finger grips for sliding doors", float(len(doors)),
                    "piece", why="one a door", uses=uses))  # fmt: skip
    locks = max(1, len(doors) - 1)
    out.append(Line("panels/lock-sliding", "panels", "locks for sliding glass doors", float(locks),
                    "piece", why="one for each overlap", uses=uses))  # fmt: skip
    return out


def _whole(habitat: Habitat, line: Line, lengths: list[float]) -> Line:
    """A line by the metre as the whole lengths that its pieces [m] come out of."""
    stock = lengths_bought(habitat, line.key, lengths)
    bought = math.fsum(s.all for s in stock)
    return replace(line, waste=bought / line.amount - 1.0, stock=stock)


def _hinged(panel: Panel, doors: list[Size]) -> list[Line]:
    glass = "glass" in panel.material.key
    kind, word = ("glass", "glass doors") if glass else ("board", "doors")
    hinges = sum(2 if tall <= TALL + 1e-9 else 3 for _, tall in doors)
    around = math.fsum(2.0 * (wide + tall) for wide, tall in doors)
    pane, uses = millimetres(panel.thickness), (panel.side,)
    thick = pane.replace("mm", " mm")
    count = float(len(doors))
    return [
        Line(f"panels/hinge-{kind}-{pane}", "panels", f"hinges for {word} of {thick}", float(hinges),
             "piece", why="two a door up to 60 cm high, else three", uses=uses),
        Line("panels/door-handle", "panels", "handles for hinged doors", count, "piece",
             why="one a door", uses=uses),
        Line("panels/lock-hinged", "panels", "locks for hinged doors", count, "piece",
             why="one a door", uses=uses),
        Line(f"panels/door-seal-{pane}", "panels", f"seal round hinged doors of {thick}", around, "m",
             SEAL_WASTE, why="all round each door, 5 % lost in cutting", uses=uses),
    ]  # fmt: skip
