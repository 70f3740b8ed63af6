"""Animals, their pedigree, the habitats they come from, people, and the builder's own needs."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path

from loamwright.errors import InputError, UnitError
from loamwright.files.build_context import Build
from loamwright.files.document import Loc, suggest
from loamwright.files.paths import inside
from loamwright.files.pedigree_csv import Row, read_pedigree
from loamwright.files.schema_residents import (
    AnimalPart,
    EggPart,
    ExistingPart,
    IndividualPart,
    NeedPart,
    PeoplePart,
)
from loamwright.files.schema_values import words
from loamwright.habitat.catalogue import Species
from loamwright.habitat.habitat import People
from loamwright.habitat.needs import Need
from loamwright.habitat.residents import Eggs, Existing, Group, Individual
from loamwright.habitat.sources import Source, SourceKind
from loamwright.units import parse

_KINDS = {
    "uvi": "number", "uvi_step": "number", "uva": "irradiance", "uvb": "irradiance",
    "ppfd": "ppfd", "dli": "dli", "lux": "lux", "radiant": "irradiance", "distance": "length",
    "exposure_time": "time", "air_temperature": "temperature",
    "surface_temperature": "temperature", "operative_temperature": "temperature",
    "humidity": "share",
}  # fmt: skip
"""How each quantity of a need is written."""


@dataclass(frozen=True, slots=True)
class Entry:
    """One animal of the pedigree, from the file's own list (``loc``) or from a table (``row``)."""

    part: IndividualPart
    loc: Loc = ()
    row: Row | None = None

    def say(self, build: Build, message: str, field: str = "") -> None:
        """Add a problem at the animal, or at one of its fields."""
        if self.row is not None:
            build.problems.append(self.row.problem(message, field))
        else:
            build.say((*self.loc, field) if field else self.loc, message)


def pedigree_entries(
    build: Build, parts: Sequence[IndividualPart], table: str | None, folder: Path
) -> list[Entry]:
    """The animals of the file's list and of the table it names; names must differ."""
    entries = [Entry(part, loc) for loc, part in build.entries("pedigree", parts)]
    if table is None:
        return entries
    try:
        rows = read_pedigree(inside(folder, table))
    except InputError as error:
        build.pass_on(("pedigree_file",), error)
        build.table_broken = True
        return entries
    first = {e.part.name: "in the habitat file" for e in entries}
    for row in rows:
        name = row.part.name
        if name in first:
            message = (
                f"{name!r} is the name of another animal too ({first[name]}); names must differ"
            )
            build.problems.append(row.problem(message, "name"))
            continue
        first[name] = f"line {row.line}"
        entries.append(Entry(row.part, row=row))
    return entries


def build_existing(
    build: Build, parts: Sequence[ExistingPart], pedigree: Sequence[Entry]
) -> tuple[list[Existing], dict[str, str]]:
    """The habitats taken down, and where each named animal lives."""
    entries = build.entries("existing", parts)
    known = {e.part.name for e in pedigree}
    lives_in: dict[str, str] = {}
    held: dict[str, list[str]] = {part.name: list(part.animals) for _, part in entries}
    for loc, part in entries:
        for i, name in enumerate(part.animals):
            place = (*loc, "animals", i)
            if name not in known:
                if not build.table_broken:
                    build.unknown_name(place, name, "animal in the pedigree", known)
            elif name in lives_in:
                build.say(place, f"{name!r} already lives in {lives_in[name]!r}; keep one")
            else:
                lives_in[name] = part.name
    for entry in pedigree:
        place_of = entry.row.lives_in if entry.row else ""
        name = entry.part.name
        if not place_of:
            continue
        if lives_in.get(name, place_of) != place_of:
            message = f"lives in {place_of!r}, but {lives_in[name]!r} names it in the habitat file"
            entry.say(build, message, "lives_in")
        elif name not in lives_in:
            lives_in[name] = place_of
            if place_of in held:
                held[place_of].append(name)
    made = [
        Existing(
            part.name,
            float(part.ground or 0.0),
            tuple((part.condition or {}).items()),
            tuple(held[part.name]),
            tuple(part.plants),
            part.mix or "",
            part.counted,
            _eggs(build, loc, part.eggs),
            None if part.quarantined is None else float(part.quarantined),
        )
        for loc, part in entries
    ]
    return made, lives_in


def _eggs(build: Build, loc: Loc, part: EggPart | None) -> Eggs | None:
    """The record of laying in a habitat and of the search for eggs."""
    if part is None:
        return None
    place = (*loc, "eggs")
    if (part.since is None) != (part.interval is None):
        missing = "interval" if part.interval is None else "since"
        build.say(place, f"has no {missing}; since and interval tell together how much was laid")
    for key in ("interval", "clutch", "detection"):
        value = getattr(part, key)
        if value is not None and not float(value) > 0.0:
            build.say((*place, key), "must be more than 0")
    if part.detection is not None and float(part.detection) >= 1.0:
        build.say((*place, "detection"), "must be less than 1: no search finds every egg for sure")
    since, interval, clutch, detection = (
        None if v is None else float(v)
        for v in (part.since, part.interval, part.clutch, part.detection)
    )
    return Eggs(part.females, since, interval, clutch, tuple(part.searches), detection)


def build_pedigree(
    build: Build, entries: Sequence[Entry], lives_in: Mapping[str, str]
) -> dict[str, Individual]:
    """The animals by name; parents must be there, of the right sex, and not in a circle."""
    by_name = {e.part.name: e for e in entries}
    made: dict[str, Individual] = {}
    roles: dict[str, str] = {}
    for entry in entries:
        part = entry.part
        species: Species | None = None
        if part.species is not None:
            species = _species(build, entry, part.species)
        for role, right, other in (("sire", "male", "female"), ("dam", "female", "male")):
            parent = getattr(part, role)
            if parent is None:
                continue
            if parent not in by_name:
                message = f"there is no animal in the pedigree named {parent!r}; "
                if not build.table_broken and parent not in build.lost_names:
                    entry.say(build, message + suggest(parent, by_name), role)
            elif by_name[parent].part.sex == other:
                entry.say(build, f"{parent!r} is {other}; a {role} is {right}", role)
            elif roles.setdefault(parent, role) != role and part.sire != part.dam:
                before = roles[parent]
                entry.say(build, f"{parent!r} is a {before} elsewhere; an animal has one sex", role)
        if part.sire is not None and part.sire == part.dam:
            message = f"{part.dam!r} is the sire too; an animal has two parents"
            entry.say(build, message, "dam")
        made[part.name] = Individual(
            part.name, species, part.sex or "unknown", part.sire, part.dam,
            lives_in.get(part.name, ""),
        )  # fmt: skip
    _circles(build, by_name)
    return made


def _species(build: Build, entry: Entry, key: str) -> Species | None:
    """The species of an animal, or None after saying that it is unknown."""
    if entry.row is None:
        return build.species(key, (*entry.loc, "species"))
    found = build.catalogue.animals.get(key)
    if found is None and not build.own_broken:
        known = suggest(key, build.catalogue.animals)
        entry.say(build, f"the catalogue has no animal {key!r}; {known}", "species")
    return found


def _circles(build: Build, by_name: Mapping[str, Entry]) -> None:
    """Say who would be their own ancestor (each circle once)."""
    done: set[str] = set()
    for start in by_name:
        path: list[str] = []
        on_path: set[str] = set()
        stack: list[tuple[str, bool]] = [(start, False)]
        while stack:
            name, leaving = stack.pop()
            if leaving:
                path.pop()
                on_path.discard(name)
                done.add(name)
                continue
            if name in on_path:
                ring = [*path[path.index(name) :], name]
                told = "is its own ancestor: " + " from ".join(map(repr, ring))
                by_name[name].say(build, told)
                continue
            if name in done or name not in by_name:
                continue
            path.append(name)
            on_path.add(name)
            stack.append((name, True))
            part = by_name[name].part
            stack += [(p, False) for p in (part.sire, part.dam) if p is not None]


def build_animals(
    build: Build,
    parts: Sequence[AnimalPart],
    pedigree: Mapping[str, Individual],
    existing: Mapping[str, Existing],
) -> list[Group]:
    """The groups; counts must fit the animals named."""
    made: list[Group] = []
    placed: dict[str, int] = {}
    for loc, part in build.entries("animals", parts):
        species = build.species(part.species, (*loc, "species"))
        origins = words(part.origins)
        for i, name in enumerate(origins):
            place = (*loc, "from", i) if isinstance(part.origins, list) else (*loc, "from")
            if name not in existing:
                build.unknown_name(place, name, "existing habitat", existing)
        named = _named(build, loc, part, pedigree, placed)
        counts = _counts(build, loc, part, named)
        if sum(counts) == 0 and (named is not None or not part.individuals):
            build.say(loc, "has no animals: give males, females, young or individuals")
        if named is None and not part.individuals:
            _against_origins(build, loc, part, counts, origins, pedigree, existing)
        _lengths(build, loc, part, species)
        if species is not None:
            length, total, reach, jump, enters = (
                None if v is None else float(v)
                for v in (part.length, part.total_length, part.reach, part.jump, part.enters)
            )
            made.append(
                Group(species, *counts, tuple(origins), tuple(part.individuals or ()), length, total,
                      reach, jump, _companions(build, loc, part), part.offspring or "", enters)
            )  # fmt: skip
    return made


def _companions(build: Build, loc: Loc, part: AnimalPart) -> tuple[str, ...]:
    """Species a group may live with, by the builder's judgement."""
    keys = words(part.companions)
    for i, key in enumerate(keys):
        place = (*loc, "with", i) if isinstance(part.companions, list) else (*loc, "with")
        build.species(key, place)
    return tuple(keys)


def _lengths(build: Build, loc: Loc, part: AnimalPart, species: Species | None) -> None:
    """Say where a length given cannot be that of such an animal."""
    short, whole = part.length, part.total_length
    if short is not None and whole is not None and float(short) > float(whole):
        message = f"{build.show(float(short))} is more than total_length, "
        build.say((*loc, "length"), message + build.show(float(whole)))
        return
    for key, longest in (("length", species and species.length_max),
                         ("total_length", species and species.total_length)):  # fmt: skip
        given = getattr(part, key)
        if given is not None and longest and float(given) > 1.5 * longest:
            message = f"{build.show(float(given))}, but the longest known is {build.show(longest)}"
            build.say((*loc, key), f"{message}; write the length in the unit you measured it in")


def _named(
    build: Build,
    loc: Loc,
    part: AnimalPart,
    pedigree: Mapping[str, Individual],
    placed: dict[str, int],
) -> list[Individual] | None:
    """The animals named, or None where one is unknown or none are."""
    if not part.individuals:
        return None
    whole = True
    named: list[Individual] = []
    for i, name in enumerate(part.individuals):
        place = (*loc, "individuals", i)
        animal = pedigree.get(name)
        if animal is None:
            if not build.table_broken:
                build.unknown_name(place, name, "animal in the pedigree", pedigree)
            whole = False
            continue
        if name in placed:
            build.say(place, f"{name!r} is named twice, first in line {placed[name]}; keep one")
        placed.setdefault(name, build.doc.where(place)[0])
        if animal.species is not None and animal.species.key != part.species:
            message = f"{name!r} is {animal.species.key} in the pedigree, not {part.species}"
            build.say(place, message)
        named.append(animal)
    return named if whole else None


def _counts(
    build: Build, loc: Loc, part: AnimalPart, named: list[Individual] | None
) -> tuple[int, int, int]:
    """Males, females and young; as named where the file gives no number."""
    sexes = Counter(animal.sex for animal in named or ())
    counts: list[int] = []
    for key, sex in (("males", "male"), ("females", "female"), ("young", "unknown")):
        given: int | None = getattr(part, key)
        if named is not None and given is not None and given != sexes[sex]:
            who = "of unknown sex" if sex == "unknown" else sex
            build.say((*loc, key), f"is {given}, but the individuals named hold {sexes[sex]} {who}")
        counts.append(sexes[sex] if given is None else given)
    return counts[0], counts[1], counts[2]


def _against_origins(
    build: Build,
    loc: Loc,
    part: AnimalPart,
    counts: tuple[int, int, int],
    origins: Sequence[str],
    pedigree: Mapping[str, Individual],
    existing: Mapping[str, Existing],
) -> None:
    """Say where more animals come from habitats than the animals named in those."""
    held = [existing[name].animals for name in origins if name in existing]
    if not held or len(held) < len(origins) or not all(held):
        return
    animals = [pedigree[n] for names in held for n in names if n in pedigree]
    if len(animals) < sum(len(names) for names in held):
        return
    there = [a for a in animals if a.species is None or a.species.key == part.species]
    if sum(counts) > len(there):
        message = f"{sum(counts)} animals, but {', '.join(map(repr, origins))} holds {len(there)}"
        build.say((*loc, "from"), f"{message} of {part.species} by name")


def build_people(build: Build, part: PeoplePart | None) -> People:
    """Time and distance of the people at work."""
    given, usual = part or PeoplePart.model_validate({}), People()
    if given.in_front is None:
        build.default("people.in_front", build.show(usual.minutes_in_front, "time"))
    if given.distance is None:
        build.default("people.distance", build.show(usual.distance))
    return People(
        usual.minutes_in_front if given.in_front is None else float(given.in_front),
        usual.distance if given.distance is None else float(given.distance),
    )


def build_needs(
    build: Build, parts: Sequence[NeedPart], sites: Iterable[str], about: Iterable[str]
) -> list[Need]:
    """The builder's own needs, each with the builder as its source."""
    made: list[Need] = []
    known_sites, known = set(sites), {*about, "people"}
    for loc, part in build.entries("needs", parts):
        kind = _KINDS[part.quantity]
        limits: dict[str, float | None] = {"low": None, "high": None}
        for key in limits:
            text = getattr(part, key)
            if text is None:
                continue
            try:
                limits[key] = value = parse(text, kind)
            except UnitError as error:
                build.say((*loc, key), error.problems[0].message)
                continue
            if value < 0.0:
                build.say((*loc, key), f"{text!r} is below 0, which {part.quantity} never is")
        low, high = limits["low"], limits["high"]
        if part.low is None and part.high is None:
            build.say(loc, "asks for nothing: give low, high or both")
        if low is not None and high is not None and low > high:
            build.say((*loc, "low"), f"{part.low} is more than high, {part.high}")
        if part.site is not None and part.site not in known_sites:
            build.unknown_name((*loc, "site"), part.site, "site", known_sites)
        if part.about is not None and part.about not in known:
            build.unknown_name((*loc, "about"), part.about, "animal, plant or lamp", known)
        if not part.source:
            build.say((*loc, "source"), "is empty: say where the number comes from")
        if part.facing is None:
            build.default(f"needs[{part.quantity}].facing", "brightest", "how a meter is held")
        source = Source(part.source, SourceKind.BUILDER)
        made.append(
            Need(part.quantity, low, high, source, part.site or "", part.about or "",
                 part.facing or "brightest")
        )  # fmt: skip
    return made
