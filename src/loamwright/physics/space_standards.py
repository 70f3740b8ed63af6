"""Published space standards as rules: how much room for how many animals of a given length.

Lengths are of the largest animal: snout to vent, straight along the carapace, or total, as each
standard says. What comes out is the least it asks for, not what is good. A standard that does not
speak of so many animals, or of one so long, gives None: nothing is put in its place.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from typing import Any


@dataclass(frozen=True, slots=True)
class Space:
    """The least room: ``floor`` area [m2], its ``long`` and ``short`` side [m], ``height`` [m],
    ``pool`` area [m2] and ``pool_depth`` [m]; None where the standard says nothing of it."""

    floor: float | None = None
    long: float | None = None
    short: float | None = None
    height: float | None = None
    pool: float | None = None
    pool_depth: float | None = None


Rule = Callable[[float, int], Space | None]
"""Body length [m] and number of animals to the room they need."""


def german_chameleon(
    body_length: float, animals: int, multiples: tuple[float, float, float]
) -> Space | None:
    """Room for one chameleon, or a pair with a fifth more floor; None for more.

    Parameters
    ----------
    body_length : float
        Snout-vent length [m].
    animals : int
        Animals [1].
    multiples : tuple of float
        Length, width and height in snout-vent lengths [1].

    Source: Germany, expert opinion on minimum requirements for keeping reptiles, 10 January 1997,
    chameleons (chapter text).
    """
    if animals > 2:
        return None
    long, short, height = (m * body_length for m in multiples)
    return Space(long * short * (1.0 if animals < 2 else 1.2), long, short, height)


def german_group(
    body_length: float, animals: int, multiples: tuple[float, float, float], more: float
) -> Space:
    """Room for two animals, and a share of their floor for each further one.

    Parameters
    ----------
    body_length : float
        Snout-vent length [m].
    animals : int
        Animals [1].
    multiples : tuple of float
        Length, width and height in snout-vent lengths [1].
    more : float
        Share of the floor of two added for each animal from the third on [1].

    Source: Germany, expert opinion of 10 January 1997; bearded dragons 5 x 4 x 3, 15 %.
    """
    long, short, height = (m * body_length for m in multiples)
    return Space(long * short * (1.0 + more * max(animals - 2, 0)), long, short, height)


def german_tortoises(body_length: float, animals: int) -> Space:
    """Room for land tortoises: 8 by 4 carapaces for two, a tenth more for the third and fourth each, a
    fifth from the fifth on.

    Parameters
    ----------
    body_length : float
        Carapace, straight [m].
    animals : int
        Animals [1].

    Source: Germany, expert opinion of 10 January 1997, as two pages restate it; a chamber of
    veterinarians says a tenth for every further animal.
    """
    long, short = 8.0 * body_length, 4.0 * body_length
    more = 0.10 * min(max(animals - 2, 0), 2) + 0.20 * max(animals - 4, 0)
    return Space(long * short * (1.0 + more), long, short)


def german_snake(body_length: float, animals: int) -> Space | None:
    """Room for one snake: 1 x 0.5 x 0.5 total lengths, above 1.5 m 0.7 x 0.5 x 0.5; None for more.

    Parameters
    ----------
    body_length : float
        Total length [m].
    animals : int
        Animals [1].

    At 1.5 m the rule falls: a snake of 1.6 m may have a shorter box than one of 1.5 m.

    Source: Germany, expert opinion of 10 January 1997, general rule, as one keeper's page restates
    it; there are exceptions by species.
    """
    if animals > 1:
        return None
    share = 1.0 if body_length <= 1.5 else 0.7
    long, short = share * body_length, 0.5 * body_length
    return Space(long * short, long, short, 0.5 * body_length)


def floor_by_class(
    body_length: float, animals: int, classes: tuple[tuple[float, float, float], ...]
) -> Space:
    """Floor for one or two animals by their size, and so much more for each further one.

    Parameters
    ----------
    body_length : float
        Length of the largest [m].
    animals : int
        Animals [1].
    classes : tuple of tuple of float
        Greatest length of a class [m], floor for one or two [m2], for each further one [m2].

    Source: Austria, 2. Tierhaltungsverordnung BGBl. II 486/2004, Annex 3, Egyptian tortoise.
    """
    _, base, more = next(c for c in classes if body_length <= c[0])
    return Space(base + more * max(animals - 2, 0))


def fixed_floor(animals: int, base: float, more: float, counted: int, height: float) -> Space:
    """A floor and height whatever the animals' length.

    Parameters
    ----------
    animals : int
        Animals [1].
    base : float
        Floor for the first [m2].
    more : float
        Floor for each further one [m2].
    counted : int
        How many the first floor holds [1].
    height : float
        Height [m].

    Source: Austria, BGBl. II 486/2004, Annex 3, bearded dragons (restated); Switzerland, SR 455.1
    in its wording of 2001, veiled chameleons.
    """
    return Space(base + more * max(animals - counted, 0), height=height)


def swiss_squares(
    body_length: float, animals: int, base: float, more: float, height: float | None = None,
    pool: tuple[float, float, float] | None = None,
) -> Space:  # fmt: skip
    """Floor in squares of the body length; for those that bathe a pool too.

    Parameters
    ----------
    body_length : float
        Snout-vent length, of frogs the body [m].
    animals : int
        Animals [1].
    base : float
        Floor of two in squares [1].
    more : float
        Floor of each further one in squares [1].
    height : float, optional
        Height in body lengths [1].
    pool : tuple of float, optional
        Pool of two and of each further one in squares, and its depth in body lengths [1].

    Source: Switzerland, Tierschutzverordnung SR 455.1, Annex 2, tables 5 and 6.
    """
    further, square = max(animals - 2, 0), body_length * body_length
    tall = None if height is None else height * body_length
    area = None if pool is None else (pool[0] + pool[1] * further) * square
    deep = None if pool is None else pool[2] * body_length
    return Space((base + more * further) * square, height=tall, pool=area,
                 pool_depth=deep)  # fmt: skip


SWISS_HEIGHT = 2.2
"""Height beyond which Switzerland lets floor take height's place [m]; SR 455.1, Annex 2, preface."""


def swiss_height(floor: float, height: float) -> tuple[float, float]:
    """Floor [m2] and height [m] that hold the same volume, where the height asked for is above 2.2 m.

    Parameters
    ----------
    floor : float
        Floor asked for [m2].
    height : float
        Height asked for [m].

    Source: Switzerland, SR 455.1, Annex 2, preface of tables 5 and 6.
    """
    if height <= SWISS_HEIGHT:
        return floor, height
    return floor * height / SWISS_HEIGHT, SWISS_HEIGHT


def swiss_tortoises(body_length: float, animals: int) -> Space | None:
    """Floor for two European tortoises, 8 by 4 carapaces; None for more: not seen.

    Parameters
    ----------
    body_length : float
        Carapace, straight [m].
    animals : int
        Animals [1].

    Source: Switzerland, SR 455.1, Annex 2, as a veterinary article restates it.
    """
    if animals > 2:
        return None
    return Space(32.0 * body_length**2, 8.0 * body_length, 4.0 * body_length)


def wales_group(body_length: float, animals: int, single: float) -> Space:
    """Floor for one adult, half as much again for the second, a fifth for each further one.

    Parameters
    ----------
    body_length : float
        Snout-vent length, which no side may fall below [m].
    animals : int
        Animals [1].
    single : float
        Floor of one adult of its category [m2].

    Source: New South Wales, Code of Practice for the Private Keeping of Reptiles, 2013 (figures from
    a digest with worked examples).
    """
    more = (0.5 if animals > 1 else 0.0) + 0.2 * max(animals - 2, 0)
    return Space(single * (1.0 + more), short=body_length)


def box_of_lengths(
    body_length: float, animals: int, multiples: tuple[float, float, float]
) -> Space | None:
    """Room for one animal in its own lengths; None for more.

    Parameters
    ----------
    body_length : float
        Length as the rule counts it [m].
    animals : int
        Animals [1].
    multiples : tuple of float
        Length, width and height in it [1].

    Source: veterinary practice's rule of thumb, Australia; no law.
    """
    if animals > 1:
        return None
    long, short, height = (m * body_length for m in multiples)
    return Space(long * short, long, short, height)


def fixed_box(animals: int, long: float, short: float, height: float) -> Space | None:
    """Room for one animal in metres; None for more.

    Parameters
    ----------
    animals : int
        Animals [1].
    long : float
        Long side [m].
    short : float
        Short side [m].
    height : float
        Height [m].

    Source: RSPCA guidance, one adult bearded dragon; a veterinary page, one adult green iguana.
    """
    return Space(long * short, long, short, height) if animals == 1 else None


@dataclass(frozen=True, slots=True)
class Standard:
    """A published standard: ``key``; ``country``, ``title`` with article and year; ``status``
    (``law``, ``official opinion``, ``code``, ``society``, ``practice``); ``seen`` how its figures were
    read (``own text`` or ``restated``); ``measure`` the length it counts (``snout-vent``,
    ``carapace``, ``total``, empty where it counts none); ``rule``; ``caution`` what speaks for care;
    ``in_force`` False for wordings kept as history.

    For whom it is: ``families``, of these the ``genera`` (all where empty) and of those the
    ``species`` (latin names; all where empty); ``strata`` words one of which its stratum must hold,
    and ``not_genera`` it leaves out.
    """

    key: str
    country: str
    title: str
    status: str
    seen: str
    measure: str
    rule: Rule
    families: tuple[str, ...]
    genera: tuple[str, ...] = ()
    species: tuple[str, ...] = ()
    not_genera: tuple[str, ...] = ()
    strata: tuple[str, ...] = ()
    caution: str = ""
    in_force: bool = True

    def __reduce__(self) -> tuple[Any, ...]:
        """It goes to another process by its key: its rule is code."""
        return standard_of, (self.key,)

    def serves(self, latin: str, family: str, stratum: str) -> bool:
        """True where the standard speaks of a species."""
        genus = latin.split(" ")[0]
        return (
            family in self.families
            and (not self.genera or genus in self.genera)
            and genus not in self.not_genera
            and (not self.species or latin in self.species)
            and (not self.strata or any(s in stratum for s in self.strata))
        )


CHAMELEONS = ("Chamaeleonidae",)
GROUND_CHAMELEONS = ("Brookesia", "Rhampholeon", "Rieppeleon", "Palleon")
TORTOISES = ("Testudinidae",)
SNAKES = (
    "Colubridae", "Dipsadidae", "Natricidae", "Pythonidae", "Lamprophiidae", "Boidae",
)  # fmt: skip
TREE_FROGS = ("Hylidae", "Rhacophoridae", "Pelodryadidae", "Phyllomedusidae")
LIZARDS = (
    "Agamidae", "Iguanidae", "Corytophanidae", "Phrynosomatidae", "Crotaphytidae",
    "Leiocephalidae", "Chamaeleonidae", "Dactyloidae", "Eublepharidae", "Diplodactylidae",
    "Gekkonidae", "Phyllodactylidae", "Sphaerodactylidae", "Scincidae", "Lacertidae",
    "Gerrhosauridae", "Cordylidae", "Anguidae", "Shinisauridae", "Varanidae",
)  # fmt: skip
CHELONIANS = ("Testudinidae", "Emydidae", "Geoemydidae")

GERMANY = "Expert opinion on minimum requirements for keeping reptiles, 10 January 1997"
AUSTRIA = "2. Tierhaltungsverordnung, BGBl. II 486/2004, Annex 3"
SWITZERLAND = "Tierschutzverordnung SR 455.1, Annex 2"
WALES = "Code of Practice for the Private Keeping of Reptiles, 2013"
NOT_A_LAW = "rule of thumb of a veterinary practice, no year given"

NO_LIMIT = float("inf")

STANDARDS: tuple[Standard, ...] = (
    Standard(
        "de-1997-chameleon-ground", "Germany", f"{GERMANY}, chameleons that live on the ground",
        "official opinion", "own text", "snout-vent",
        lambda s, n: german_chameleon(s, n, (4.0, 4.0, 2.5)), CHAMELEONS, GROUND_CHAMELEONS,
        caution="many chameleons are to be kept singly",
    ),
    Standard(
        "de-1997-chameleon", "Germany", f"{GERMANY}, all other chameleons",
        "official opinion", "own text", "snout-vent",
        lambda s, n: german_chameleon(s, n, (4.0, 2.5, 4.0)), CHAMELEONS,
        not_genera=GROUND_CHAMELEONS, caution="many chameleons are to be kept singly",
    ),
    Standard(
        "de-1997-pogona", "Germany", f"{GERMANY}, bearded dragons", "official opinion", "restated",
        "snout-vent", lambda s, n: german_group(s, n, (5.0, 4.0, 3.0), 0.15), ("Agamidae",),
        ("Pogona",),
    ),
    Standard(
        "de-1997-tortoise", "Germany", f"{GERMANY}, land tortoises", "official opinion", "restated",
        "carapace", german_tortoises, TORTOISES,
        caution="a chamber of veterinarians says a tenth more for every further animal",
    ),
    Standard(
        "de-1997-snake", "Germany", f"{GERMANY}, snakes, general rule", "official opinion",
        "restated", "total", german_snake, SNAKES,
        caution="the rule falls at 1.5 m, and some species have a rule of their own",
    ),
    Standard(
        "at-2004-pogona", "Austria", f"{AUSTRIA}, bearded dragons", "law", "restated", "",
        lambda _, n: fixed_floor(n, 1.0, 0.40, 2, 0.80), ("Agamidae",), ("Pogona",),
    ),
    Standard(
        "at-2004-kleinmanni", "Austria", f"{AUSTRIA}, Egyptian tortoise, indoors", "law",
        "own text", "carapace",
        lambda s, n: floor_by_class(
            s, n, ((0.06, 0.50, 0.20), (0.12, 1.00, 0.40), (NO_LIMIT, 2.00, 0.50))
        ),
        TORTOISES, ("Testudo",), ("Testudo kleinmanni",),
    ),
    Standard(
        "ch-eublepharis", "Switzerland", f"{SWITZERLAND}, table 5, leopard gecko", "law", "restated",
        "snout-vent", lambda s, n: swiss_squares(s, n, 36.0, 4.0), ("Eublepharidae",),
        ("Eublepharis",),
    ),
    Standard(
        "ch-treefrog", "Switzerland", f"{SWITZERLAND}, table 6, tree frogs", "law", "own text",
        "snout-vent", lambda s, n: swiss_squares(s, n, 50.0, 4.0, 10.0, (2.0, 1.0, 2.0)),
        TREE_FROGS, caution="the body is taken from snout to vent: a frog has no tail",
    ),
    Standard(
        "ch-tortoise", "Switzerland", f"{SWITZERLAND}, European tortoises", "law", "restated",
        "carapace", swiss_tortoises, TORTOISES, ("Testudo",), ("Testudo hermanni",),
    ),
    Standard(
        "nsw-2013-pogona", "New South Wales", f"{WALES}, lizards of category D", "code", "restated",
        "snout-vent", lambda s, n: wales_group(s, n, 0.375), ("Agamidae",), ("Pogona",),
        ("Pogona vitticeps",),
    ),
    Standard(
        "uk-rspca-pogona", "United Kingdom", "RSPCA guidance, one adult bearded dragon, no year given",
        "society", "restated", "", lambda _, n: fixed_box(n, 1.20, 0.60, 0.60), ("Agamidae",),
        ("Pogona",), ("Pogona vitticeps",),
    ),
    Standard(
        "dght-frog", "Germany", "rule of thumb for poison frogs given with the anuran guidelines of "
        "the German herpetological society, no year given", "society", "restated", "snout-vent",
        lambda s, n: floor_by_class(s, n, ((0.03, 0.075, 0.020), (NO_LIMIT, 0.120, 0.040))),
        ("Dendrobatidae",),
    ),
    Standard(
        "vet-iguana", "", "veterinary page, adult green iguana at least, no year given", "practice",
        "own text", "", lambda _, n: fixed_box(n, 2.0, 2.0, 1.5), ("Iguanidae",), ("Iguana",),
    ),
    Standard(
        "vet-lizard-arboreal", "Australia", f"{NOT_A_LAW}, lizards that climb", "practice",
        "own text", "total", lambda s, n: box_of_lengths(s, n, (3.0, 2.0, 3.0)), LIZARDS,
        strata=("arboreal",),
    ),
    Standard(
        "vet-lizard", "Australia", f"{NOT_A_LAW}, lizards of the ground", "practice", "own text",
        "total", lambda s, n: box_of_lengths(s, n, (3.0, 2.0, 1.5)), LIZARDS,
        strata=("terrestrial", "saxicolous", "fossorial", "semi_aquatic"),
    ),
    Standard(
        "vet-snake-arboreal", "Australia", f"{NOT_A_LAW}, snakes that climb", "practice",
        "own text", "total", lambda s, n: box_of_lengths(s, n, (1.0, 2.0 / 3.0, 1.0)), SNAKES,
        strata=("arboreal",),
    ),
    Standard(
        "vet-snake", "Australia", f"{NOT_A_LAW}, snakes of the ground", "practice", "own text",
        "total", lambda s, n: box_of_lengths(s, n, (1.0, 2.0 / 3.0, 0.75)), SNAKES,
        strata=("terrestrial", "saxicolous", "fossorial", "semi_aquatic"),
    ),
    Standard(
        "ch-2001-calyptratus", "Switzerland", f"{SWITZERLAND}, wording of 2001, veiled chameleon",
        "law", "own text", "", lambda _, n: fixed_floor(n, 0.6, 0.15, 1, 1.0), CHAMELEONS,
        ("Chamaeleo",), ("Chamaeleo calyptratus",), in_force=False,
        caution="superseded, kept as history",
    ),
)  # fmt: skip
"""Every standard whose figures were seen. Not found: the German tables by species for most lizards,
the Swiss table 5 but for the leopard gecko, the Swiss minima for poison frogs in force since 2018, the
Austrian tables beyond the first species, manuals of zoo associations for these groups."""


def standard_of(key: str) -> Standard:
    """The standard of a key; raises `KeyError` where there is none."""
    return {x.key: x for x in STANDARDS}[key]


def standards_for(latin: str, family: str, stratum: str) -> list[Standard]:
    """The standards in force that speak of a species, laws first; of two that differ by where an
    animal lives, that of the ground only for one that does not climb.

    Parameters
    ----------
    latin : str
        Its scientific name.
    family : str
        Its family.
    stratum : str
        Where it lives, words joined by ``+``.

    Source: for whom each standard says it is.
    """
    order = ("law", "official opinion", "code", "society", "practice")
    found = [s for s in STANDARDS if s.in_force and s.serves(latin, family, stratum)]
    keys = {s.key for s in found}
    kept = [s for s in found if f"{s.key}-arboreal" not in keys]
    return sorted(kept, key=lambda s: order.index(s.status))
