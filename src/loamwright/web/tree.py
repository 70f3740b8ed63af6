"""The list of what a habitat holds, and what can be added to it."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from typing import Any

from loamwright.editing import Draft, choices
from loamwright.errors import InputError, Problem
from loamwright.habitat.habitat import Habitat
from loamwright.report.plain import clean

SIDES = ("front", "back", "left", "right", "top", "floor")

ADDABLE = {
    "lamps": "lamp", "plants": "plant", "hardscape": "branch", "sites": "site", "water": "bowl",
    "air": "fan", "animals": "animals", "ground": "layer", "enclosure.openings": "opening",
    "mist.nozzles": "nozzle", "needs": "need", "cuts.stock": "sheet",
    "enclosure.lining": "background", "decomposers": "decomposers", "controls": "controller",
    "existing": "old habitat", "pedigree": "animal by name",
}  # fmt: skip
"""Sections that take another entry by a press of a button, and what it is called."""


Item = tuple[tuple[str | int, ...], str]
"""A place in the file, and what it is called."""


def groups(draft: Draft) -> list[dict[str, Any]]:
    """Groups of entries, each with its place in the file."""
    value = draft.value
    return [
        _group("the habitat", [((), "name, purpose, units"), (("room", "winter"), "room in winter"),
                               (("room", "summer"), "room in summer"), (("room",), "altitude"),
                               (("day",), "hours of the day"), (("people",), "people in front"),
                               (("money",), "money"), (("build",), "who builds, and when"),
                               (("cuts",), "how it is cut"), (("mains",), "electricity")]),
        _group("box", [(("enclosure", "inside"), "inside measures"),
                       *((("enclosure", "panels", s), f"{s} panel") for s in SIDES),
                       *_named(value(("enclosure", "openings")), ("enclosure", "openings")),
                       (("enclosure", "stand"), "stand")],
               "enclosure.openings"),
        _group("lamps", _named(value(("lamps",)), ("lamps",)), "lamps"),
        _group("animals", [(("animals", i), str(a.get("species", "?")))
                           for i, a in enumerate(_list(value(("animals",))))], "animals"),
        _group("sites", _named(value(("sites",)), ("sites",)), "sites"),
        _group("plants", _named(value(("plants",)), ("plants",), "species"), "plants"),
        _group("hardscape", _named(value(("hardscape",)), ("hardscape",)), "hardscape"),
        _group("backgrounds", _named(value(("enclosure", "lining")), ("enclosure", "lining")),
               "enclosure.lining"),
        _group("ground", _named(value(("ground",)), ("ground",), "kind"), "ground"),
        _group("water", _named(value(("water",)), ("water",)), "water"),
        _group("air", _named(value(("air",)), ("air",)), "air"),
        _group("mist", [*([(("mist",), "tank, times and pump")] if value(("mist",)) else []),
                        *_named(value(("mist", "nozzles")), ("mist", "nozzles"))], "mist.nozzles"),
        _group("decomposers", _named(value(("decomposers",)), ("decomposers",), "species"),
               "decomposers"),
        _group("sheets and rolls", _named(value(("cuts", "stock")), ("cuts", "stock"), "material"),
               "cuts.stock"),
        _group("controls", [(("controls", n), n) for n in (value(("controls",)) or {})], "controls"),
        _group("old habitats", [item for loc, name in _named(value(("existing",)), ("existing",))
                                for item in ((loc, name), ((*loc, "eggs"), f"{name}: eggs"))],
               "existing"),
        _group("pedigree", _named(value(("pedigree",)), ("pedigree",)), "pedigree"),
        _group("own needs", [(("needs", i), f"{n.get('quantity', '?')} {n.get('site', '')}")
                             for i, n in enumerate(_list(value(("needs",))))], "needs"),
    ]  # fmt: skip


def _list(found: Any) -> list[dict[str, Any]]:
    return [e for e in found if isinstance(e, dict)] if isinstance(found, list) else []


def _named(found: Any, head: tuple[str, ...], also: str = "kind") -> list[Item]:
    return [
        ((*head, i), str(e.get("name") or e.get(also) or f"{head[-1]} {i + 1}"))
        for i, e in enumerate(_list(found))
    ]


def _group(title: str, items: Iterable[Item], add: str = "") -> dict[str, Any]:
    return {
        "title": title, "add": add, "what": ADDABLE.get(add, ""),
        "items": [{"loc": list(loc), "id": ident(loc), "label": clean(label, 48)}
                  for loc, label in items],
    }  # fmt: skip


def ident(loc: Iterable[str | int]) -> str:
    """The name a place has in the scene and the list."""
    parts = list(loc)
    if parts[:2] == ["enclosure", "panels"]:
        return f"panel/{parts[2]}"
    if len(parts) > 1 and isinstance(parts[-1], int):
        return f"{'.'.join(str(p) for p in parts[:-1])}/{parts[-1]}"
    return "/".join(str(p) for p in parts) or "file"


SPREAD = ((0.5, 0.5), (0.3, 0.5), (0.7, 0.5), (0.5, 0.75), (0.25, 0.75), (0.75, 0.75), (0.15, 0.85),
          (0.85, 0.85), (0.12, 0.3), (0.88, 0.3), (0.4, 0.15), (0.6, 0.9))  # fmt: skip
"""Where a new entry is tried, as shares of the width (of a panel) and of the depth (its height)."""


def first_entries(habitat: Habitat, section: str, system: str) -> Iterator[dict[str, Any]]:
    """New entries of a section, one after the other to be tried until one has room."""
    for side in ("left", "right", "back", "top") if section in PANEL_SECTIONS else ("",):
        for across, up in SPREAD:
            yield _entry(habitat, section, system, side, across, up)


PANEL_SECTIONS = ("air", "enclosure.openings", "enclosure.lining")


def _entry(
    habitat: Habitat, section: str, system: str, side: str, across: float, up: float
) -> dict[str, Any]:
    from loamwright.engine.lower import air_box
    from loamwright.report.quantities import measure

    low, high = air_box(habitat)
    us = system == "us"
    unit = "in" if us else "cm"

    def at(*shares: float, axes: str = "xyz") -> list[str]:
        out = []
        for axis, share in zip(axes, shares, strict=False):
            k = "xyz".index(axis)
            place = float(low[k] + share * (high[k] - low[k]))
            out.append(f"{measure(place, system)} {unit}")
        return out

    def free(word: str, taken: Iterable[str]) -> str:
        known, n = set(taken), 1
        while f"{word} {n}" in known:
            n += 1
        return f"{word} {n}"

    names = {s.name for s in habitat.sites} | {p.name for p in habitat.hardscape}
    small = ["3 in", "3 in"] if us else ["8 cm", "8 cm"]
    on_panel = at(across, up, axes={"left": "yz", "right": "yz", "back": "xz"}.get(side, "xy"))
    match section:
        case "lamps":
            return {"name": free("lamp", [x.name for x in habitat.lamps]), "type": "led-bar-20w",
                    "at": at(across, up, 0.95)}  # fmt: skip
        case "plants":
            return {"name": free("plant", [x.name for x in habitat.plants]),
                    "species": "chlorophytum-comosum", "at": at(across, up)}  # fmt: skip
        case "hardscape":
            return {"name": free("branch", names), "shape": "branch",
                    "from": at(0.25, up, 0.4), "to": at(0.75, up, 0.5),
                    "diameter": "1 1/2 in" if us else "4 cm"}  # fmt: skip
        case "sites":
            return {"name": free("site", names), "at": at(across, up, 0.5), "role": "probe"}
        case "water":
            return {"name": free("bowl", [x.name for x in habitat.water]), "at": at(across, up),
                    "size": small, "depth": "1 in" if us else "2 cm"}  # fmt: skip
        case "air":
            return {"name": free("fan", [x.name for x in habitat.fans]), "fan": "axial-92mm-12v",
                    "panel": side, "at": on_panel, "flow": "out", "speed": "40 %"}  # fmt: skip
        case "animals":
            return {"species": "anolis-carolinensis", "males": 1, "females": 1}
        case "ground":
            return {"name": free("layer", [x.name for x in habitat.ground.layers]),
                    "kind": "leaf-litter", "depth": "1/2 in" if us else "1 cm"}  # fmt: skip
        case "enclosure.openings":
            taken = [x.name for x in habitat.enclosure.openings]
            return {"name": free("opening", taken), "panel": side, "at": on_panel, "size": small}
        case "mist.nozzles":
            taken = [x.name for x in habitat.mist.nozzles] if habitat.mist else []
            return {"name": free("nozzle", taken), "type": "fine-nozzle",
                    "at": at(across, up, 0.97)}  # fmt: skip
        case "enclosure.lining":
            taken = [x.name for x in habitat.enclosure.linings]
            return {"name": free("background", taken), "panel": side, "material": "cork",
                    "thickness": "1/2 in" if us else "1 cm"}  # fmt: skip
        case "decomposers":
            taken = [x.species.key for x in habitat.decomposers]
            return {"species": next(k for k, _ in choices("decomposers") if k not in taken)}
        case "controls":
            setting = "86 degF" if us else "30 degC"
            return {"kind": "thermostat", "probe": habitat.sites[0].name, "set": setting}
        case "existing":
            return {"name": free("old habitat", [x.name for x in habitat.existing])}
        case "pedigree":
            entry = {"name": free("animal", [x.name for x in habitat.pedigree])}
            kinds = [g.species.key for g in habitat.animals]
            return entry | ({"species": kinds[0]} if kinds else {})
        case "cuts.stock":
            size = ["96 in", "48 in"] if us else ["244 cm", "122 cm"]
            return {"material": habitat.enclosure.panel("back").material.key, "size": size}
        case "needs":
            where = {"site": habitat.sites[0].name} if habitat.sites else {}
            return {"quantity": "uvi", "high": 3, **where, "source": "our own rule"}
    raise ValueError(section)


def _first_mist(nozzle: dict[str, Any], system: str) -> dict[str, Any]:
    """A tank and a time for the first nozzle."""
    tank = "1 gal" if system == "us" else "5 L"
    return {"tank": tank, "nozzles": [nozzle], "times": [{"at": "08:00", "for": "20 s"}]}


def _controlled(habitat: Habitat, draft: Draft) -> tuple[str | int, ...]:
    """The strongest lamp that no controller switches yet; raises `InputError` where none is."""
    written = _list(draft.value(("lamps",)))
    free = [n for n, entry in enumerate(written) if "control" not in entry]
    if not free:
        message = "every lamp has a controller already: add the lamp first"
        raise InputError(Problem(message, "controls"))
    return ("lamps", max(free, key=lambda n: habitat.lamps[n].type.power), "control")


def add(draft: Draft, habitat: Habitat, section: str, **chosen: Any) -> tuple[str | int, ...]:
    """Add an entry of a section where it has room, with what was ``chosen`` of it, and say its place;
    raises the last `InputError` where none has. A controller drives the strongest lamp that has
    none: without anything to drive it would be refused."""
    problem: InputError | None = None
    head = tuple(section.split("."))
    what = f"add {ADDABLE[section]}"
    if section == "controls":
        names, n = draft.value(head) or {}, 1
        while f"controller {n}" in names:
            n += 1
        if not habitat.sites:
            raise InputError(Problem("add a site for its probe first", "controls"))
        place, name = _controlled(habitat, draft), f"controller {n}"
        entry = next(first_entries(habitat, section, habitat.units)) | chosen
        draft.change([((*head, name), entry), (place, name)], what)
        return (*head, name)
    for entry in first_entries(habitat, section, habitat.units):
        entry |= chosen
        try:
            if section == "mist.nozzles" and habitat.mist is None:
                draft.change([(("mist",), _first_mist(entry, habitat.units))], "add mist")
            else:
                draft.add(head, entry, what)
        except InputError as error:
            problem = error
        else:
            return (*head, len(draft.value(head)) - 1)
    assert problem is not None
    raise problem
