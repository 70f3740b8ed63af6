"""What the box is made of: panels, openings, backgrounds, hardscape, fixings, stand."""

from __future__ import annotations

from loamwright.habitat.habitat import Habitat
from loamwright.plan.battens import batten_screws, battens
from loamwright.plan.box_joints import FREE_AXES, outer_box, panel_boxes
from loamwright.plan.covers import covers_of
from loamwright.plan.frames import frame_screws
from loamwright.plan.front_fittings import door_lines
from loamwright.plan.front_parts import front_parts
from loamwright.plan.held_screws import held_screws
from loamwright.plan.joining import BEAD, SILICONE, joint_lines, joint_screws
from loamwright.plan.keys import cover_key, lining_key, millimetres, panel_key, slug
from loamwright.plan.lamp_holds import hold_screws
from loamwright.plan.lines import Line
from loamwright.plan.runner_carrier import NAME, carrier_parts, runner_silicone
from loamwright.plan.screws import cover_screws, fan_screws, screw_lines, takes_screws

SHEET_WASTE = 0.10
"""Share of a sheet lost when nobody has laid out the cuts; common practice, no source."""

DAB = 0.10
"""Sealant or adhesive that holds a background, in litres to a square metre; common practice."""

COATS = {"coated-pu-foam": 1.0, "xps-foam": 1.5}
"""Coating of backgrounds that need one, in litres to a square metre, two coats; common practice."""

COAT_WHY = {
    "coated-pu-foam": "two coats on cut edges, joints and screw heads, and all over where boards come "
    "bare or are carved; bought for all over: coated boards that stay whole take far less; common "
    "practice",
}
"""What the coating is for, where not for all of the board."""


def spans(habitat: Habitat) -> dict[str, tuple[float, float]]:
    """Inside width and height of each side [m]."""
    wide, deep, high = habitat.enclosure.inside
    return {
        "floor": (wide, deep), "top": (wide, deep), "back": (wide, high), "front": (wide, high),
        "left": (deep, high), "right": (deep, high),
    }  # fmt: skip


def _thick(label: str, thickness: float) -> str:
    """A label with its thickness, where it does not say it itself."""
    size = millimetres(thickness).replace("mm", " mm")
    return label if size in label else f"{label}, {size}"


def panels(habitat: Habitat) -> list[Line]:
    """Panels by area as they are cut, edges that cover others included, holes not taken off: sheets
    are whole. Of the front its panes, and what carries their outer track."""
    boxes, box = panel_boxes(habitat), habitat.enclosure
    labels = {x.material.key: x.material.label for x in box.linings}
    labels |= {x.material.key: x.material.label for x in box.panels}
    out = []
    for panel in box.panels:
        if panel.side in boxes:
            low, high = boxes[panel.side]
            wide, tall = (high[k] - low[k] for k in FREE_AXES[panel.side])
            material = panel.material
            out.append(
                _sheet(material.key, material.label, panel.thickness, wide * tall, panel.side)
            )
        else:
            for part in front_parts(habitat, labels)[0]:
                out.append(_sheet(part.material, part.label, part.thickness, part.area, panel.side))
            out += [
                _sheet(part.material, part.label, part.thickness, part.area, NAME)
                for part in carrier_parts(habitat)
            ]
        out += door_lines(habitat, panel)
    return out


def _sheet(key: str, label: str, thickness: float, area: float, side: str) -> Line:
    """So much of a sheet [m2] of a thickness [m] for a side."""
    clear = "glass" in key
    return Line(
        panel_key(key, thickness), "panels", _thick(label, thickness), area, "m2",
        0.0 if clear else SHEET_WASTE, uses=(side,),
        why="glass cut to size by the glazier" if clear
        else "area of the panels, 10 % lost in cutting",
    )  # fmt: skip


def covers(habitat: Habitat) -> list[Line]:
    """Meshes and sheets over openings, and meshes before fans, by area as they are cut."""
    return [
        Line(cover_key(c.cover.key), "openings", c.cover.label, c.size[0] * c.size[1], "m2",
             SHEET_WASTE, uses=(c.over,),
             why="openings, fans and what covers reach beyond them, 10 % lost in cutting")
        for c in covers_of(habitat)
    ]  # fmt: skip


def backgrounds(habitat: Habitat) -> list[Line]:
    """Backgrounds by area."""
    out = []
    for x in habitat.enclosure.linings:
        wide, high = spans(habitat)[x.side]
        out.append(Line(
            lining_key(x.material.key, x.thickness), "background",
            _thick(x.material.label, x.thickness), wide * high, "m2",
            SHEET_WASTE, why="the whole side, 10 % lost in cutting", uses=(x.name,),
        ))  # fmt: skip
        coat = COATS.get(x.material.key)
        if coat is not None:
            out.append(Line(
                "background/coating", "background", "resin or acrylic coating, fit for animals once "
                "cured", coat * wide * high, "L", 0.1, uses=(x.name,),
                why=COAT_WHY.get(x.material.key, "two coats all over; common practice"),
            ))  # fmt: skip
    return out


def fixings(habitat: Habitat) -> list[Line]:
    """What joins the box and seals it, sealant behind backgrounds, and all screws by their size."""
    out = [*joint_lines(habitat), *runner_silicone(habitat)]
    for x in habitat.enclosure.linings:
        wide, high = spans(habitat)[x.side]
        if "silicone" in x.fixing or not x.fixing:
            out.append(Line(SILICONE.key, "fixings", SILICONE.name, DAB * wide * high, "L", 0.5,
                            uses=(x.name,),
                            why="0.1 L to a square metre of background"))  # fmt: skip
    for opening in habitat.enclosure.openings:
        panel = habitat.enclosure.panel(opening.side)
        if opening.cover.kind != "open" and not takes_screws(panel.material.key):
            around = 2.0 * sum(opening.size)
            out.append(Line(SILICONE.key, "fixings", SILICONE.name, 500.0 * BEAD * BEAD * around, "L",
                            0.5, uses=(opening.name,), why="a 6 mm fillet round covers on panels that "
                            "take no screws"))  # fmt: skip
    screws = (*joint_screws(habitat), *batten_screws(habitat), *frame_screws(habitat),
              *held_screws(habitat), *cover_screws(habitat), *fan_screws(habitat),
              *hold_screws(habitat))  # fmt: skip
    return [*out, *screw_lines(screws)]


def stand(habitat: Habitat) -> list[Line]:
    """The stand, where the file names one."""
    x = habitat.enclosure.stand
    if x is None:
        return []
    rated = "" if x.rated is None else f", rated {x.rated:g} kg"
    wide, deep = stand_top(habitat)
    size = (
        f", flat top at least {100 * wide:.4g} x {100 * deep:.4g} cm, {100 * x.height:.3g} cm high"
    )
    why = "one; its top as large as the box outside, with what stands out behind it"
    return [Line(f"stand/{slug(x.kind)}", "stand", f"{x.kind}{rated}{size}", 1.0, "piece", why=why)]


def stand_top(habitat: Habitat) -> tuple[float, float]:
    """Least width and depth of a stand's flat top [m]: the box outside, and battens behind it."""
    low, high = outer_box(habitat)
    behind = max((b.high[1] for b in battens(habitat) if b.side == "back"), default=high[1])
    return high[0] - low[0], max(high[1], behind) - low[1]
