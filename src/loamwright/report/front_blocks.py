"""The front as a section, from below: heights of strip, runners, panes and head, and how far each lies
before the inside."""

from __future__ import annotations

from loamwright.habitat.habitat import Habitat
from loamwright.plan.box_joints import TRACK, doors_slide, front_zone
from loamwright.plan.cut_parts import DOOR, FIXED, PartToCut
from loamwright.plan.front_parts import front_parts
from loamwright.plan.runner_carrier import carrier_of, carrier_parts
from loamwright.report.blocks import Table
from loamwright.report.cut_words import material_words, unit
from loamwright.report.draft_page import size_words
from loamwright.report.plain import clean


def front_table(habitat: Habitat, system: str) -> Table:
    """The front from the floor to the head; no rows where it does not open."""
    name = unit(system)
    columns = ("from below", f"begins\n{name}", f"ends\n{name}", f"before the inside\n{name}")
    labels = {p.material.key: p.material.label for p in habitat.enclosure.panels}
    parts = front_parts(habitat, labels)[0]
    doors = [p for p in parts if p.kind == DOOR]
    title = "The front, from below"
    if not doors:
        return Table(title, columns, ())
    high = habitat.enclosure.inside[2]
    slides = doors_slide(habitat)
    zone = (-front_zone(habitat), 0.0)
    rows = []

    def row(what: str, low: float, up: float, depth: tuple[float, float]) -> None:
        far = f"{size_words(-depth[1], system)} to {size_words(-depth[0], system)}"
        rows.append((what, size_words(low, system), size_words(up, system), far))

    start = 0.0
    for p in parts:
        if p.kind == FIXED and p.low is not None and p.high is not None:
            start = p.high[2]
            row(
                f"fixed strip, {material_words(p.label, system)}", 0.0, start, (p.low[1], p.high[1])
            )
    for p in carrier_parts(habitat):
        assert p.low is not None
        assert p.high is not None
        name = f"{clean(p.name, 40)}, {material_words(p.label, system)}"
        row(name, p.low[2], p.high[2], (p.low[1], p.high[1]))
    base, top = _ends(doors[0])
    runner = ("lower runner", "upper runner") if slides else ("gap below", "gap above")
    row(runner[0], start, base, zone)
    for p in doors:
        assert p.low is not None
        assert p.high is not None
        row(
            f"{clean(p.name, 30)}, {material_words(p.label, system)}",
            *_ends(p),
            (p.low[1], p.high[1]),
        )
    row(runner[1], top, high, zone)
    return Table(title, columns, tuple(rows), right=frozenset({1, 2}), tight=True,
                 note=_note(habitat, slides, system))  # fmt: skip


def _ends(part: PartToCut) -> tuple[float, float]:
    assert part.low is not None
    assert part.high is not None
    return part.low[2], part.high[2]


def _note(habitat: Habitat, slides: bool, system: str) -> str:
    high = size_words(habitat.enclosure.inside[2], system)
    depth, name = size_words(front_zone(habitat), system), unit(system)
    said = (
        f"Heights from the inside of the floor to the head, the underside of the top, at {high} "
        f"{name}. Depths forward of the front edge of the inside: the first number is the face towards "
        f"the animals. Floor, sides and top reach {depth} {name} forward"
    )
    if slides:
        half = size_words(habitat.cutting.runner / 2, system)
        said += (
            f": two panes and {size_words(TRACK, system)} {name} for the walls of the double runner. "
            f"{_carried(habitat, system)}The upper runner hangs under the top in two beads of "
            "silicone, its open side down, held by tape until it has cured. Measure the doors "
            f"between the runners once both are in. Panes stand {half} {name} off strip and head. "
            "Runners that doors are lifted out of want more play above than below: measure yours, then "
            "order the doors"
        )
    return f"{said}. Common practice, no source; your fittings' own sheet decides."


def _carried(habitat: Habitat, system: str) -> str:
    """What the lower runner lies on, and how both are fixed; empty where there is no strip."""
    c, name = carrier_of(habitat), unit(system)
    if c is None:
        return "The lower runner lies on the floor in two beads of silicone. "
    one = f"{material_words(c.label, system)}, {size_words(c.thickness, system)} {name}"
    made = f"of {one}" if c.layers == 1 else f"of {c.layers} layers of {one}, bonded with silicone"
    bed = size_words(c.bed, system)
    held = (
        f"in two beads of silicone {bed} {name} thick"
        if c.bed > 0.0
        else "in a thin bed of silicone"
    )
    if c.packed:
        held = f"on packers of {bed} {name} every hand's breadth and silicone"
    play = size_words(habitat.enclosure.inside[0] - c.length, system)
    return (
        "The strip carries the inner track of the lower runner, the carrier before it the outer one: "
        f"{made}, as high as the strip and {play} {name} shorter than the inside is wide. Bed it on "
        f"the floor and against the strip {held}, its outer face flush with the front edges of "
        "floor and sides, both upper edges level; close its ends with silicone. Then bed the lower "
        "runner on both in two beads of silicone, and leave all of it a day before doors go in. "
    )
