"""Who lives there, where they come from, and who their parents were."""

from __future__ import annotations

from dataclasses import dataclass

from loamwright.habitat.catalogue import Species


@dataclass(frozen=True, slots=True)
class Group:
    """A group of one species: counts, the existing habitats they come from, and the names of
    those known by name in the pedigree (part of the counts); ``length`` of the largest, snout to
    vent or along the carapace, ``total_length`` with its tail, the widest gap they
    ``reach`` across and ``jump`` [m], None where not measured; keys of ``companions`` that the builder
    judges they may live with, whether ``offspring`` ``stay`` or ``leave`` (empty: not decided), and the
    time from the first day of the plan after which the group ``enters`` [s]."""

    species: Species
    males: int = 0
    females: int = 0
    young: int = 0
    origins: tuple[str, ...] = ()
    individuals: tuple[str, ...] = ()
    length: float | None = None
    total_length: float | None = None
    reach: float | None = None
    jump: float | None = None
    companions: tuple[str, ...] = ()
    offspring: str = ""
    enters: float | None = None

    @property
    def count(self) -> int:
        """All animals of the group."""
        return self.males + self.females + self.young


@dataclass(frozen=True, slots=True)
class Individual:
    """One animal of the pedigree; unknown parents are None. ``lives_in`` names an existing
    habitat or another place, and is empty when the animal is no longer kept."""

    name: str
    species: Species | None = None
    sex: str = "unknown"
    sire: str | None = None
    dam: str | None = None
    lives_in: str = ""


@dataclass(frozen=True, slots=True)
class Eggs:
    """A record of laying, and of the search for eggs: ``females`` that lay, time ``since`` the last
    clutch that is accounted for and mean ``interval`` between clutches of one female [s], eggs in a
    ``clutch``; eggs found in each of the ``searches``, and the chance of an egg to be found in one
    (``detection``). None where not known."""

    females: int | None = None
    since: float | None = None
    interval: float | None = None
    clutch: float | None = None
    searches: tuple[int, ...] = ()
    detection: float | None = None


@dataclass(frozen=True, slots=True)
class Existing:
    """A habitat taken down for this build: its ground [m3], the names or counts in it, and the key of
    the finished ``mix`` its ground was made of (empty where not said); animals ``counted`` as it was
    taken down (None: not yet), what is known of ``eggs`` in it, and how long its animals are
    ``quarantined`` [s]."""

    name: str
    ground_volume: float = 0.0
    condition: tuple[tuple[str, str], ...] = ()
    animals: tuple[str, ...] = ()
    plants: tuple[str, ...] = ()
    mix: str = ""
    counted: int | None = None
    eggs: Eggs | None = None
    quarantined: float | None = None
