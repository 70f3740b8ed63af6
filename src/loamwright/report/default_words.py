"""What a file left out, told in plain words instead of by the file's keys."""

from __future__ import annotations

import re

from loamwright import units
from loamwright.report import quantities
from loamwright.report.build_words import HELD
from loamwright.report.plain import clean
from loamwright.report.system_words import in_system

HEADS: dict[str, str] = {
    "lamps": "lamp", "air": "fan", "fans": "fan", "mist.nozzles": "nozzle", "mist": "misting",
    "controls": "controller", "sites": "place", "plants": "plant", "hardscape": "piece",
    "ground": "layer", "decomposers": "decomposers", "enclosure.openings": "opening",
    "enclosure.panels": "panel", "enclosure.lining": "background", "enclosure.stand": "stand",
    "enclosure.cutting": "cutting", "room.floor": "the room's floor", "room.winter": "room in winter",
    "room.summer": "room in summer", "room.weather": "room over the year", "room": "room",
    "day": "day", "mains": "mains", "cuts": "cutting", "money": "money", "build": "the build",
    "people": "people", "needs": "own need", "animals": "animals", "existing": "old habitat",
    "water": "bowl", "pedigree": "animal", "enclosure": "box",
}  # fmt: skip
"""Parts of the file by the beginning of their names, in words."""

PARTS: dict[str, str] = {
    "dim": "dimming", "at": "where it is", "on": "what it is on", "along": "how far along",
    "aim": "which way it faces", "hours": "when it is on", "held": "how it is held",
    "cut_out": "independent cut-out", "cut_out_probe": "place of the cut-out's probe",
    "from": "begins", "to": "ends", "time_constant": "time constant", "in_front": "time before it",
    "lag": "lag of its probe", "beam": "beam angle", "guards": "guards", "speed": "speed",
    "flow": "way it blows", "doors": "doors", "gap": "gap between doors", "night": "at night",
    "day": "by day", "old": "age when put in", "sill": "fixed strip", "unit": "unit of the shape",
    "mesh": "shape",
    "residual": "residual-current device trips at", "bore": "bore of its line",
    "tank_at": "where its tank stands", "board": "where the board is", "outlet": "where the outlet is",
    "others": "other loads", "fuse": "fuse or breaker",
    "count": "number", "tied": "tied to a wall", "ribs": "battens",
}  # fmt: skip
"""Fields whose names say little by themselves, in words."""

OF_LAMPS = {"along": "way its long side runs"}
"""Fields of lamps that are other things elsewhere."""

SAID = {
    "true": "yes",
    "false": "no",
    "x": "along the width",
    "y": "along the depth",
    "z": "upright",
} | {key: told.removeprefix("held ") for key, told in HELD.items()}
"""Values that are words of the file, in words of people."""

_FIELD = re.compile(r"(?P<head>[a-z_.]+?)(?:\[(?P<name>[^\]]*)\])?(?:\.(?P<tail>[\w.]+))?")
_SIZE = re.compile(
    r"(?<![\w.])-?\d+(?:\.\d+)? (?P<unit>mm|cm|m|in|ft|g|kg|oz|lb|degF_diff|degC|degF|K)(?![\w²³/])"
)
MOST_APART = 100.0
"""Kelvins from which on a value is the color of a light, not how far temperatures lie apart [K]."""

_KEY = re.compile(r"[a-z0-9]+(-[a-z0-9]+)+")


def field_words(field: str) -> str:
    """``lamps[uv].dim`` as ``lamp 'uv': dimming``."""
    found = _FIELD.fullmatch(field)
    if found is None:
        return clean(field.replace("_", " "))
    head, name, tail = found.group("head"), found.group("name"), found.group("tail") or ""
    if name is None:
        whole = f"{head}.{tail}".rstrip(".")
        head = next((h for h in sorted(HEADS, key=len, reverse=True)
                     if whole == h or whole.startswith(f"{h}.")), head)  # fmt: skip
        tail = whole.removeprefix(head).lstrip(".")
    part = HEADS.get(head, clean(head.replace("_", " ").replace(".", ", ")))
    told = f"{part} '{clean(name)}'" if name else part
    parts = PARTS | OF_LAMPS if head == "lamps" else PARTS
    rest = ", ".join(parts.get(x, x.replace("_", " ")) for x in tail.split(".") if x)
    return f"{told}: {rest}" if rest else told


def why_words(text: str, system: str) -> str:
    """A reason without the spelling of keys: ``the usual surface of drainage-mat``."""
    if text == "only [x, y] is given":
        return "the file gives only where it is from the left and from the front"
    if text == "usual where units are us":
        return "usual where units are those of the United States"
    told = re.sub(r"(?<=the usual surface of )[a-z0-9-]+", lambda m: m[0].replace("-", " "), text)
    return in_system(told, system)


def value_words(value: str, system: str) -> str:
    """A value without the spelling of keys and units of the file: ``pvc-foam-board`` as
    ``pvc foam board``, ``28 degC`` as ``28 °C``; sizes as on all other pages, whatever units the file
    is written in: ``27.56 in`` as ``27 9/16 in``."""
    told = SAID.get(value, value)
    told = _SIZE.sub(lambda found: _size_words(found[0], found["unit"], system), told)
    told = re.sub(r"\bdeg([CF])(_diff)?\b", r"°\1", told)
    return clean(told.replace("-", " ") if _KEY.fullmatch(told) else told)


def _size_words(text: str, unit: str, system: str) -> str:
    """A length, mass or temperature of the file in the system people are shown."""
    if unit in ("degC", "degF"):
        value = units.parse(text, "temperature")
        return f"{quantities.shown('temperature', value, system):.1f}".removesuffix(".0") + (
            f" {quantities.unit('temperature', system)}"
        )
    if unit in ("K", "degF_diff"):
        apart = units.parse(text, "temperature_difference")
        if abs(apart) > MOST_APART:
            return text
        told = quantities.difference("temperature", apart, system)
        return f"{told:.1f}".removesuffix(".0") + (" °F" if system == "us" else " K")
    if unit in ("g", "kg", "oz", "lb"):
        return units.show(units.parse(text, "mass"), "mass", system)
    return quantities.length(units.parse(text, "length"), system)
