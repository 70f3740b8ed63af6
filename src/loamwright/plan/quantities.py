"""The shopping list: one line for everything that the parts of a habitat are made of.

The ground's amounts are those of `engine.ground.quantities`, to the last unit: nothing of them is
computed again here.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping

from loamwright.engine.ground.quantities import Quantities
from loamwright.habitat.habitat import Habitat
from loamwright.plan import quantities_box as box
from loamwright.plan import quantities_gear as gear
from loamwright.plan import quantities_lamps as fitted
from loamwright.plan.board import board_lines
from loamwright.plan.keys import litter_key, media_key, sheet_key, slug
from loamwright.plan.lamp_holds import hold_lines
from loamwright.plan.laying_work import laying_lines
from loamwright.plan.lines import Line, merged
from loamwright.plan.mortar import mortar_lines
from loamwright.plan.mounts import rail_lines
from loamwright.plan.whole_pieces import hardscape_lines

LITRE = 1e-3
"""A litre [m3]."""


def shopping_list(
    habitat: Habitat,
    ground: Quantities,
    starters: Mapping[str, int] | None = None,
    instead: Iterable[Line] = (),
) -> tuple[Line, ...]:
    """Everything to buy, one line a thing, by groups in the order of the build.

    Parameters
    ----------
    habitat : Habitat
        The habitat.
    ground : Quantities
        Its ground's amounts, as the ground engine says them.
    starters : mapping, optional
        Decomposers let in, by species, where the engine computed them; else the file's own.
    instead : iterable of Line
        Lines that take the place of those of the same key (whole sheets instead of areas), and lines
        of other keys that are added (power supplies, cable).
    """
    lines = part_lines(habitat, ground, starters)
    given = merged(instead)
    replaced = {line.key for line in given}
    kept = [line for line in merged(lines) if line.key not in replaced]
    order = {group: i for i, group in enumerate(GROUPS)}
    return tuple(
        sorted((*kept, *given), key=lambda x: order.get(x.group, len(order)))
    )  # stable: within a group as they come


def part_lines(
    habitat: Habitat, ground: Quantities, starters: Mapping[str, int] | None = None
) -> list[Line]:
    """What each part asks for by itself, so that one thing may stand in several lines; arguments as
    for `shopping_list`."""
    return [
        *box.panels(habitat), *box.covers(habitat), *box.backgrounds(habitat),
        *hardscape_lines(habitat), *laying_lines(habitat),
        *box.fixings(habitat), *mortar_lines(habitat), *box.stand(habitat),
        *ground_lines(ground),
        *gear.plants(habitat), *gear.decomposers(habitat, starters or {}),
        *gear.lamps(habitat), *fitted.lamp_fittings(habitat), *fitted.led_through(habitat),
        *gear.air(habitat), *gear.mist(habitat), *gear.controls(habitat),
        *gear.bowls(habitat), *rail_lines(habitat), *hold_lines(habitat), *board_lines(habitat),
    ]  # fmt: skip


GROUPS = (
    "panels", "openings", "background", "fixings", "stand", "hardscape", "ground", "plants",
    "decomposers", "lamps", "air", "mist", "controls", "wiring", "water", "instruments",
)  # fmt: skip
"""Headings of the list, in the order in which a build takes things in hand."""


def ground_lines(ground: Quantities) -> list[Line]:
    """The ground: sheets by area, litter by dry mass, media by loose volume, additions by dose."""
    out = []
    for layer in ground.layers:
        for p in layer.buy:
            name = p.key.replace("-", " ")
            if p.unit == "m2":
                out.append(Line(sheet_key(p.key), "ground", name, p.amount, "m2", uses=(p.layer,),
                                why="area between the linings, 5 % for cutting included"))  # fmt: skip
            elif p.unit == "kg":
                out.append(Line(litter_key(p.key), "ground", name, p.amount, "kg", uses=(p.layer,),
                                why="dry, 5 % spare included"))  # fmt: skip
            else:
                bags = tuple((size / LITRE, n) for size, n in p.bags)
                out.append(Line(
                    media_key(p.key), "ground", name, p.amount / LITRE, "L", uses=(p.layer,),
                    why="loose, with what settling and mixing take and 5 % spare", bags=bags,
                ))  # fmt: skip
        for dose in layer.doses:
            amount, unit = (dose.amount / LITRE, "L") if dose.unit == "m3" else (dose.amount, "kg")
            out.append(Line(f"additions/{slug(dose.what)}", "ground", dose.what, amount, unit,
                            why="mixed in by dose", uses=(layer.name,)))  # fmt: skip
    return out
