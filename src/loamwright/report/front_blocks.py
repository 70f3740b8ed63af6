"""The front as a section, from below: heights of strip, runners, panes and head, and how far each lies
before the inside."""

from __future__ import annotations

from loamwright.habitat.habitat import Habitat
from loamwright.plan.box_joints import TRACK, doors_slide, front_zone
from loamwright.plan.cut_parts import DOOR, FIXED, PartToCut
from loamwright.plan.front_parts import front_parts
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
        rest = front_zone(habitat) - habitat.enclosure.panel("front").thickness
        half = size_words(habitat.cutting.runner / 2, system)
        said += (
            f": two panes and {size_words(TRACK, system)} {name} for the walls of the double runner. "
            "The strip carries the inner track of the lower runner; a second strip before it, "
            f"{size_words(rest, system)} {name} thick and as high, carries the outer one: it "
            "stands in the shopping list. The "
            f"upper runner hangs under the top; panes stand {half} {name} off strip and head. Runners "
            "that doors are lifted out of want more play above than below: measure yours, then "
            "order the doors"
        )
    return f"{said}. Common practice, no source; your fittings' own sheet decides."
