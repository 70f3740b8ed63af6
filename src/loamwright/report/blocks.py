"""Results cut into blocks: headings, findings and tables as data, for terminal and page alike."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from typing import Protocol

from loamwright import units
from loamwright.engine.findings import Finding, State, worst_first
from loamwright.habitat.enclosure import Vec3
from loamwright.habitat.habitat import Habitat
from loamwright.plan.front_parts import sill_height
from loamwright.report import quantities
from loamwright.report.plain import capital, clean, listing
from loamwright.report.words import (
    FACINGS,
    STATES,
    Worded,
    about_words,
    mind_words,
    source_words,
    word,
)

EVERY = (
    "light; heat, humidity and air on a typical winter and summer day; water in the ground over eight "
    "weeks; the load on the stand"
)
"""What every check covers."""

SAFE_ENOUGH = "Nothing missed here does not yet mean that animals may move in."


def coverage(habitat: Habitat | None = None, findings: Iterable[Finding] = ()) -> str:
    """What a check covers, said beside its counts: of a habitat only what is there, what lives in its
    ground where ``findings`` tell of it; of none everything that can be checked."""
    every = habitat is None
    mist = every or bool(habitat and habitat.mist is not None and habitat.mist.nozzles)
    built = ["panels", "floor", "fixings", "wiring", *(["misting line"] if mist else [])]
    parts = [EVERY, listing(built)]
    if habitat is None or habitat.animals:
        parts.append("the animals, their room and ways")
    growing = ["plants"] if habitat is None or habitat.plants else []
    if every or any(f.engine == "decomposers" for f in findings):
        growing.append("what lives in the ground")
    if growing:
        parts.append(f"{listing(growing)} over a year")
    return f"Checked: {'; '.join(parts)}. {SAFE_ENOUGH}"


COUNT_ORDER = (State.MISSED, State.CLOSE, State.NOT_KNOWN, State.MET)


class SiteValues(Protocol):
    """What a site of the light result offers: its name, place, role and values by facing."""

    @property
    def name(self) -> str:
        """The site's name."""
        ...

    @property
    def at(self) -> Vec3:
        """Its place [m]."""
        ...

    @property
    def role(self) -> str:
        """Its role."""
        ...

    @property
    def values(self) -> Mapping[str, Mapping[str, float]]:
        """Facing -> quantity -> value in SI."""
        ...


@dataclass(frozen=True, slots=True)
class FindingGroup:
    """Findings about one resident, plant or lamp, worst first."""

    about: str
    heading: str
    findings: tuple[Worded, ...]


@dataclass(frozen=True, slots=True)
class Table:
    """A small table; ``right`` numbers the columns whose text stands to the right, ``tight`` sets
    the columns close together."""

    title: str
    columns: tuple[str, ...]
    rows: tuple[tuple[str, ...], ...]
    right: frozenset[int] = frozenset()
    note: str = ""
    tight: bool = False


@dataclass(frozen=True, slots=True)
class CheckReport:
    """The findings of one habitat, grouped and counted."""

    habitat: str
    groups: tuple[FindingGroup, ...]
    counts: dict[State, int]
    counts_line: str
    caution: str
    tables: tuple[Table, ...] = ()
    coverage: str = ""


def counts_words(counts: Mapping[State, int]) -> str:
    """``3 missed, 1 close, 2 not known, 14 met``."""
    if not sum(counts.values()):
        return "no needs to check"
    return ", ".join(f"{counts[s]} {STATES[s]}" for s in COUNT_ORDER)


def check_report(
    habitat: Habitat,
    findings: Iterable[Finding],
    system: str = "metric",
    *,
    explain: bool = False,
) -> CheckReport:
    """Findings grouped by what they concern, the group with the worst one first.

    ``explain`` adds the tables of defaults used and of the findings' sources.
    """
    ordered = worst_first(list(findings))
    about: dict[str, list[Worded]] = {}
    for finding in ordered:
        mind = mind_words(finding, ordered, habitat)
        about.setdefault(finding.about, []).append(
            replace(word(finding, habitat, system), mind=mind)
        )
    groups = tuple(
        FindingGroup(key, about_words(key, habitat), tuple(texts)) for key, texts in about.items()
    )
    counts = {s: sum(f.state is s for f in ordered) for s in COUNT_ORDER}
    weak = sum(f.source.weak for f in ordered)
    caution = ""
    if weak:
        verb = "finding rests" if weak == 1 else "findings rest"
        caution = (
            f"{weak} {verb} on a number without a document behind it "
            "(from memory or common practice): check it before an animal depends on it."
        )
    tables = (defaults_table(habitat), sources_table(ordered, system)) if explain else ()
    return CheckReport(clean(habitat.name), groups, counts, counts_words(counts), caution, tables,
                       coverage(habitat, ordered))  # fmt: skip


def defaults_table(habitat: Habitat) -> Table:
    """What the file left out, and what was taken instead."""
    # The front's fixed strip is worked out by the cuts: one height on every page. Two needs of one
    # quantity leave the same out: told once.
    strip = units.show(sill_height(habitat), "length", habitat.units)
    worked_out = {"enclosure.panels.front.sill": strip}
    rows = tuple(
        dict.fromkeys(
            (clean(d.field), clean(worked_out.get(d.field, d.value)), clean(d.why))
            for d in habitat.defaults
        )
    )
    return Table(
        "Defaults used",
        ("field", "value", "why"),
        rows,
        note="" if rows else "The file leaves nothing out.",
    )


def sources_table(findings: Iterable[Finding], system: str = "metric") -> Table:
    """Each source of the findings' limits once, with the needs that rest on it."""
    used: dict[str, list[str]] = {}
    for finding in findings:
        text = source_words(finding.source, system)
        need = clean(finding.need)
        if need not in used.setdefault(text, []):
            used[text].append(need)
    rows = tuple((text, ", ".join(needs)) for text, needs in used.items())
    return Table("Sources of the limits", ("source", "for"), rows)


_COLUMNS = ("uvi", "uva", "uvb", "ppfd", "dli", "lux", "radiant")
_HEADS = {
    "uvi": "UVI",
    "uva": "UVA\nW/m²",
    "uvb": "UVB\nW/m²",
    "ppfd": "PPFD\nµmol/\nm²/s",
    "dli": "DLI\nmol/\nm²/d",
    "radiant": "radiant\nW/m²",
}


def sites_table(
    sites: Iterable[SiteValues], facing: str, system: str = "metric", title: str = ""
) -> Table:
    """The light at each site for one facing (``up``, ``brightest`` or ``normal``)."""
    rows = [
        (
            clean(site.name),
            *(
                quantities.number(q, quantities.shown(q, site.values[facing][q], system))
                if q in site.values.get(facing, {})
                else "–"
                for q in _COLUMNS
            ),
        )
        for site in sites
    ]
    return Table(
        title or f"Light at the sites, {FACINGS.get(facing, clean(facing))}",
        ("site", *(_HEADS.get(q) or quantities.unit(q, system) for q in _COLUMNS)),
        tuple(tuple(x.replace("not known", "–") for x in row) for row in rows),
        right=frozenset(range(1, len(_COLUMNS) + 1)),
    )


def places_table(sites: Iterable[SiteValues], system: str = "metric") -> Table:
    """Where the sites are."""
    rows = tuple(
        (clean(s.name), clean(s.role), quantities.place(s.at, system).strip("[]")) for s in sites
    )
    return Table("Where the sites are", ("site", "role", "x, y, z"), rows)


LONGEST_SOURCE = 500
"""Characters shown of a catalogue entry's source: it is what `show` is asked for."""

AGAIN = "as above"
"""Instead of a source that is the same as that of the line before."""


def _source(text: str, kind: str) -> str:
    """A source and its kind, where the text does not say it itself."""
    said = clean(text, LONGEST_SOURCE)
    return said if not kind or kind in said else f"{said} ({kind})" if said else kind


def catalogue_table(title: str, rows: Sequence[tuple[str, str, str, str]]) -> Table:
    """One catalogue entry: rows of label, value, source and the source's kind."""
    weak = {"from memory", "common practice"}
    body: list[tuple[str, str, str]] = []
    last = ""
    for label, value, source, kind in rows:
        said = _source(source, clean(kind))
        again = said == last and len(said) > len(AGAIN)
        body.append((clean(label), clean(value), AGAIN if again else said))
        last = said
    note = ""
    if any(kind in weak for *_, kind in rows):
        note = "Numbers from memory or from common practice have no document behind them."
    return Table(capital(clean(title)), ("what", "value", "source"), tuple(body), note=note)


def list_table(title: str, rows: Sequence[tuple[str, str, str, str]]) -> Table:
    """A list of catalogue entries: rows of key, description, source and the source's kind."""
    table = catalogue_table(title, rows)
    return Table(table.title, ("name", "what it is", "source"), table.rows, note=table.note)
