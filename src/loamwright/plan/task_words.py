"""What some tasks of a build are called: by what the box has."""

from __future__ import annotations

from collections.abc import Sequence

from loamwright.habitat.ground import DRAINING
from loamwright.habitat.habitat import Habitat
from loamwright.habitat.hardscape import Piece
from loamwright.habitat.water import Bowl
from loamwright.plan.battens import battens
from loamwright.plan.board import board_of
from loamwright.plan.frames import frame_of
from loamwright.plan.joining import sealed_later
from loamwright.plan.leak_test import leak_test
from loamwright.plan.mortar import in_mortar
from loamwright.plan.service_holes import services_of


def joined_words(habitat: Habitat) -> str:
    """Joining the box, with its battens and the frame of its top where it has any; sealing it too where
    what joins it seals it."""
    found = battens(habitat)
    told = ["join the box"]
    board = board_of(habitat)
    # From the inside through the panel, which a background covers later.
    carries = board is not None and bool(board.side)
    if found:
        way = "glue and screw" if any(b.screws for b in found) else "glue on"
        told.append(f"{way} its battens" + (" and its board's" if carries else ""))
    elif carries:
        told.append("screw on its board's battens")
    if frame_of(habitat) is not None:
        told.append("screw on the frame of its top")
    if sealed_later(habitat):
        return ", ".join(told)
    if len(told) == 1:
        return "join the box and seal its corners"
    return ", ".join((*told, "seal its corners"))


def leak_words(habitat: Habitat) -> str:
    """The leak test, the drain fitted first where there is one: its hole lies below the water."""
    told = leak_test(habitat).words
    drains = any(s.kind == "drain" and s.side for s in services_of(habitat))
    return f"fit the drain and {told}" if drains else told


def from_behind(habitat: Habitat) -> bool:
    """Whether a piece or a background is screwed, through a panel from its outside."""
    pieces, linings = habitat.hardscape, habitat.enclosure.linings
    return any(p.screws for p in pieces) or any(x.screws for x in linings)


def place_words(habitat: Habitat) -> str:
    """Setting the box where it stands, off the wall while its outside is needed."""
    where = "on its stand" if habitat.enclosure.stand is not None else "in its place"
    told = f"set the box {where} and level it"
    if from_behind(habitat):
        told += ", an arm's length from the wall while it is worked on from behind"
    return told


def wall_words(habitat: Habitat) -> str:
    """What is done at the wall before the ground makes it heavy; empty where nothing is."""
    stand = habitat.enclosure.stand
    tied = stand is not None and stand.tied
    if from_behind(habitat):
        return "push the box to the wall" + (" and tie it" if tied else "")
    return "tie the box to the wall" if tied else ""


def drainage_words(habitat: Habitat) -> str:
    """The layers that nobody digs in and that pieces stand on; empty where the ground has none."""
    kinds = []
    for layer in habitat.ground.layers:
        if layer.kind not in DRAINING:
            break
        kinds.append(layer.kind)
    if not kinds:
        return ""
    if set(kinds) == {"fleece"}:
        return "lay the fleece"
    return "lay the drainage layer" + (" and its fleece" if "fleece" in kinds else "")


NAMED = 3
"""Pieces named in a task; more are counted."""


def laid_words(pieces: Sequence[Piece], bowls: Sequence[Bowl]) -> str:
    """Setting what the ground bears, once it is there."""
    told = []
    if pieces:
        names = [f"'{p.name}'" for p in pieces]
        listed = (
            f"the {len(names)} pieces that the ground bears"
            if len(names) > NAMED
            else " and ".join((", ".join(names[:-1]), names[-1]) if names[1:] else names)
        )
        told.append(f"set {listed}, bedded on ground brought up to the foot, so that nothing rolls")
    if bowls:
        one = len(bowls) == 1
        told.append(f"set the {'bowl' if one else 'bowls'} level on ground, not on leaves")
    return "; ".join(told)


CALLED = {"branch": "branches", "tube": "tubes"}
"""Pieces by their shape, in words; others are stones."""


def fixed_words(pieces: Sequence[Piece]) -> str:
    """Setting what stands on the floor or is held by more than its weight, before the ground comes."""
    kinds = list(dict.fromkeys(CALLED.get(p.shape, "stones") for p in pieces))
    named = " and ".join((", ".join(kinds[:-1]), kinds[-1]) if kinds[1:] else kinds)
    ways = [
        *(["screwed"] if any(p.screws for p in pieces) else []),
        *(["glued"] if any(p.glued for p in pieces) else []),
        *(["bedded in mortar"] if any(in_mortar(p) for p in pieces) else []),
    ]
    held = " and ".join((", ".join(ways[:-1]), ways[-1]) if ways[1:] else ways)
    return f"set and fix {named}" + (f": {held} as the list of pieces says" if held else "")
