"""Adaptors that let a reference sheet speak of space standards by their keys."""

from __future__ import annotations

from loamwright.physics import space_standards as rules

BY_KEY = {s.key: s for s in rules.STANDARDS}


def asked(key: str, body_length: float, animals: int, fields: list[str]) -> list[float]:
    """What a standard asks for, field by field."""
    space = BY_KEY[key].rule(body_length, animals)
    assert space is not None
    return [getattr(space, name) for name in fields]


def lower_box(floor: float, height: float) -> list[float]:
    """Floor and height once a height over 2.2 m is given as floor."""
    return list(rules.swiss_height(floor, height))
