"""Old ground judged by what is seen, felt and smelt: reuse it, reuse it in part, or discard it."""

from __future__ import annotations

import re
from dataclasses import dataclass

from loamwright.habitat.residents import Existing
from loamwright.habitat.sources import PRACTICE, Source, SourceKind

SULPHIDE = Source(
    "water-logged soil without oxygen reduces sulphate to sulphide, which smells of rotten eggs and "
    "poisons roots; Ponnamperuma 1972, Advances in Agronomy 24:29",
    SourceKind.FROM_MEMORY,
)
AMMONIA = Source(
    "ammonia is smelt where nitrogen is set free faster than it is taken up or nitrified; "
    "from memory",
    SourceKind.FROM_MEMORY,
)

GOOD, DOUBTFUL, BAD = 0, 1, 3
"""Points of a sign; from `DISCARD` points on the ground goes, from one on it is blended."""

DISCARD = 3

IN_PART = 0.25
"""Most of a layer that doubtful old ground may make up [1]; common practice, no source."""

ASKED = ("smell", "clumps", "colour", "wet", "life")
"""What the sheet asks for, in its order."""

ALSO = {
    "color": "colour", "moist": "wet", "moisture": "wet", "wetness": "wet", "depth of wet": "wet",
    "odour": "smell", "odor": "smell", "animals": "life", "structure": "clumps",
}  # fmt: skip
"""Other words for what is asked."""

SIGNS: tuple[tuple[str, tuple[str, ...], int, Source], ...] = (
    ("smell", ("egg", "sulphur", "sulfur", "rotten", "sewage", "foul", "putrid"), BAD, SULPHIDE),
    ("smell", ("ammonia", "urine", "sharp"), BAD, AMMONIA),
    ("smell", ("sour", "vinegar", "musty", "mouldy", "moldy", "stale"), DOUBTFUL, PRACTICE),
    ("smell", ("earthy", "forest", "none", "nothing", "fresh", "neutral"), GOOD, PRACTICE),
    ("clumps", ("many", "hard", "slimy", "greasy", "sticky", "all"), DOUBTFUL, PRACTICE),
    ("clumps", ("few", "none", "no", "some", "crumbly", "loose"), GOOD, PRACTICE),
    ("colour", ("grey", "gray", "blue", "green"), BAD, SULPHIDE),
    ("colour", ("black", "white", "pale", "crust"), DOUBTFUL, PRACTICE),
    ("colour", ("brown", "dark"), GOOD, PRACTICE),
    ("wet", ("flooded", "standing", "soggy", "waterlogged", "drip", "muddy"), BAD, PRACTICE),
    ("wet", ("wet", "dry", "dust"), DOUBTFUL, PRACTICE),
    ("wet", ("even", "moist", "damp", "dry on top"), GOOD, PRACTICE),
    ("life", ("mite", "gnat", "nematode", "fly", "flies", "mould", "mold"), DOUBTFUL, PRACTICE),
    ("life", ("none", "nothing", "no"), DOUBTFUL, PRACTICE),
    ("life", ("springtail", "isopod", "worm", "many", "some", "few", "plenty"), GOOD, PRACTICE),
)
"""Signs by what is asked, words of which one is said, points, and the source."""


_DENIAL = re.compile(r"\b(?:no|not|none|without|never|nothing)\b")


@dataclass(frozen=True, slots=True)
class Sign:
    """One answer: what was ``asked``, what was ``said``, ``points`` (None: not understood)."""

    asked: str
    said: str
    points: int | None
    source: Source


@dataclass(frozen=True, slots=True)
class Sheet:
    """An inspection: the ground of ``name``, its ``volume`` [m3], the signs in the sheet's order,
    what was not ``asked`` after, the ``verdict`` (``reuse``, ``part``, ``discard``, ``unknown``)
    and the largest ``share`` of a layer it may make up [1]."""

    name: str
    volume: float
    signs: tuple[Sign, ...]
    missing: tuple[str, ...]
    points: int
    verdict: str
    share: float

    @property
    def worst(self) -> Sign | None:
        """The sign that speaks most against it; None where none does."""
        against = [s for s in self.signs if s.points]
        return max(against, key=lambda s: s.points or 0) if against else None


def inspect(existing: Existing) -> Sheet:
    """Judge the ground of a habitat that is taken down.

    A smell of eggs or ammonia, grey or blue ground and ground that stands in water decide alone.
    Nothing said is no verdict: ground nobody smelt is not reused on a guess.
    """
    told = {ALSO.get(key.lower(), key.lower()): said for key, said in existing.condition}
    signs = tuple(_sign(asked, told[asked]) for asked in ASKED if asked in told)
    missing = tuple(asked for asked in ASKED if asked not in told)
    points = sum(s.points or 0 for s in signs)
    known = [s for s in signs if s.points is not None]
    if points >= DISCARD:
        verdict, share = "discard", 0.0
    elif not any(s.asked == "smell" for s in known):
        verdict, share = "unknown", IN_PART
    elif points:
        verdict, share = "part", IN_PART
    else:
        verdict, share = "reuse", 1.0
    return Sheet(existing.name, existing.ground_volume, signs, missing, points, verdict, share)


def _sign(asked: str, said: str) -> Sign:
    """Points of an answer: of all signs it names, the worst decides.

    A word inside a longer one that fits does not count, as "dry" in "dry on top". What is said not to
    be there speaks for the ground; of what should live in it, against.
    """
    worst: tuple[int, Source] | None = None
    for part in re.split(r"[,;.:]| but ", said.lower()):
        denied = _DENIAL.search(part) is not None
        named = _named(asked, part)
        of_things = [x for x in named if _DENIAL.fullmatch(x[0]) is None]
        for _, points, source in of_things or named:
            told = _opposite(asked, points) if denied and of_things else points
            if told is not None and (worst is None or told > worst[0]):
                worst = told, source
    if worst is None:
        return Sign(asked, said, None, PRACTICE)
    return Sign(asked, said, *worst)


def _named(asked: str, text: str) -> list[tuple[str, int, Source]]:
    """Signs named in a text: word, points, source; those inside longer ones left out."""
    found = []
    for key, names, points, source in SIGNS:
        for name in names if key == asked else ():
            # Short words hide in others, as "no" in "none".
            pattern = rf"\b{name}(?:s|es)?\b" if len(name) <= 4 else name
            found += [(m.span(), name, points, source) for m in re.finditer(pattern, text)]
    return [
        (name, points, source)
        for (low, high), name, points, source in found
        if not any(a <= low and high <= b and (a, b) != (low, high) for (a, b), *_ in found)
    ]


def _opposite(asked: str, points: int) -> int | None:
    """Points of a sign that is said not to be there; None where that tells nothing."""
    if points:
        return GOOD
    return DOUBTFUL if asked == "life" else None
