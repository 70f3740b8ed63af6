"""Dragging and nudging in the scene, turned into changes of the file in the file's own units."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from typing import Any

from loamwright import editing, units
from loamwright.editing import Draft, Loc
from loamwright.errors import InputError
from loamwright.habitat.equipment import Lamp
from loamwright.habitat.habitat import Habitat


def loc_of(ident: str) -> Loc:
    """The place in the file of a thing of the scene or the list."""
    if ident == "file":
        return ()
    head, _, tail = ident.rpartition("/")
    if head == "panel":
        return ("enclosure", "panels", tail)
    if ident.startswith("controls/"):
        return ("controls", ident.removeprefix("controls/"))  # a name of any kind
    if tail.isdigit():
        return (*head.split("."), int(tail))
    return tuple(int(p) if p.isdigit() else p for p in ident.split("/"))


def dragged(
    draft: Draft, habitat: Habitat, things: Sequence[dict[str, Any]], said: dict[str, Any]
) -> tuple[Loc, list[tuple[Loc, Any]]] | None:
    """The place in the file of a thing that was dragged in the scene, and the changes of that; None
    where it is not there, or stays where it is."""
    thing = next((t for t in things if t["id"] == said.get("id")), None)
    if thing is None or thing["move"] == "no":
        return None
    by, along = said.get("by"), said.get("along")
    if by is None:
        start = thing.get("at") or thing.get("from")
        by = [b - a for a, b in zip(start or (), said["at"], strict=False)]
    by = [min(max(float(v), -10.0), 10.0) for v in by][:3] + [0.0] * (3 - len(by))
    loc = tuple(thing["loc"])
    return loc, moved(draft, habitat, loc, by, None if along is None else float(along))


def moved(
    draft: Draft, habitat: Habitat, loc: Loc, by: Sequence[float], along: float | None
) -> list[tuple[Loc, Any]]:
    """Changes that move the entry at ``loc`` by so much [m]."""
    if along is not None:
        return [((*loc, "along"), round(along, 3))]
    entry = draft.value(loc, {})
    changes: list[tuple[Loc, Any]] = []
    for key in ("at", "from", "to"):
        place = entry.get(key)
        if not isinstance(place, list):
            continue
        shift = _free(by, entry, loc) if key == "at" else list(by)
        for n, text in enumerate(place):
            if n < len(shift) and abs(shift[n]) > 1e-9:
                now = units.parse(text, "length") + shift[n]
                changes.append(((*loc, key, n), editing.length_like(now, text, habitat.units)))
    return changes


def _free(by: Sequence[float], entry: dict[str, Any], loc: Loc) -> list[float]:
    """The shift in the measures that a place is written in: panels have their own two."""
    if loc[0] == "air" or list(loc[:2]) == ["enclosure", "openings"]:
        side = entry.get("panel")
        pairs = {"floor": (0, 1), "top": (0, 1), "front": (0, 2), "back": (0, 2)}
        return [by[k] for k in pairs.get(str(side), (1, 2))]
    return list(by)


def lamps_with(habitat: Habitat, loc: Loc, changes: Sequence[tuple[Loc, Any]]) -> Habitat | None:
    """The habitat with a lamp already moved or dimmed by these changes, where that is all they do;
    its light can then be asked for before the text is read again."""
    if len(loc) < 2 or loc[0] != "lamps" or not isinstance(loc[1], int):
        return None
    number = loc[1]
    if not 0 <= number < len(habitat.lamps):
        return None
    lamp = habitat.lamps[number]
    try:
        for where, value in changes:
            lamp = _changed(lamp, where, value)
    except (InputError, ValueError, IndexError):
        return None
    lamps = (*habitat.lamps[:number], lamp, *habitat.lamps[number + 1 :])
    return replace(habitat, lamps=lamps)


def _changed(lamp: Lamp, where: Loc, value: Any) -> Lamp:
    key = where[2]
    if key == "at" and len(where) == 4 and lamp.aim == (0.0, 0.0, -1.0):
        at = list(lamp.at)
        at[int(where[3])] = units.parse(value, "length")
        return replace(lamp, at=(at[0], at[1], at[2]))
    if key == "dim":
        return replace(lamp, dim=units.parse(value, "share"))
    raise ValueError("not this one")


def cure_changes(draft: Draft, habitat: Habitat, cure: Any) -> tuple[Loc, list[tuple[Loc, Any]]]:
    """The changes that a cure asks for."""
    number = next(i for i, x in enumerate(habitat.lamps) if x.name == cure.subject)
    loc: Loc = ("lamps", number)
    if cure.to is not None:
        written = draft.value((*loc, "at"))
        return loc, [
            ((*loc, "at", n), editing.length_like(v, written[n], habitat.units))
            for n, v in enumerate(cure.to)
        ]
    return loc, [((*loc, "dim"), f"{100 * (cure.value or 0.0):.0f} %")]
