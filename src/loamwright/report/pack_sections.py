"""The sections of the pack that the engines' results fill."""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import replace
from typing import TYPE_CHECKING

from loamwright.engine.findings import Finding, State
from loamwright.habitat.habitat import Habitat
from loamwright.report import quantities
from loamwright.report.blocks import (
    COUNT_ORDER,
    SiteValues,
    Table,
    check_report,
    defaults_table,
    places_table,
    sites_table,
)
from loamwright.report.default_words import field_words, value_words, why_words
from loamwright.report.equipment_blocks import equipment_tables
from loamwright.report.inside_blocks import bowls_table, pieces_table
from loamwright.report.mount_blocks import mount_table
from loamwright.report.overview import Picture, facts
from loamwright.report.plain import capital, clean, listing, on_paper
from loamwright.report.typst_blocks import (
    Block,
    Caution,
    Counts,
    Facts,
    Found,
    Heading,
    Section,
    Sheet,
    Shown,
    Words,
)
from loamwright.report.words import STATES, source_words, title_words

if TYPE_CHECKING:
    from loamwright.engine.climate.drills import Drill
    from loamwright.engine.climate.results import ClimateRun
    from loamwright.engine.ground.coupled import Coupled
    from loamwright.engine.ground.quantities import Quantities
    from loamwright.engine.life.decomposers_study import Found as SmallLife
    from loamwright.engine.life.plants_year import Planting
    from loamwright.engine.life.study import Animals
    from loamwright.plan.care import Care
    from loamwright.plan.order import OrderOfWork

JUDGED = (
    "Judged are the residents' known limits of body, air and humidity, each in the refuge that holds "
    "best. How hot surfaces and basking places become, and water on the floor, are not judged here: "
    "look at the column of the hottest place."
)
"""What the drills are held against, said where they pass nothing."""

Named = Sequence[tuple[str, Picture]]


def plain_titles(tables: Iterable[Table], habitat: Habitat) -> list[Table]:
    """Tables whose titles do not repeat the habitat's name, which stands on every page."""
    start = f"{clean(habitat.name)}: "
    return [
        replace(t, title=capital(t.title.removeprefix(start))) if t.title.startswith(start) else t
        for t in tables
    ]


def as_shown(picture: Picture, width: float = 1.0) -> Shown:
    """A report's picture as one of the pack's."""
    return Shown(picture.content, picture.kind, picture.caption, picture.alt, width)


_POINTS = re.compile(rb'<svg[^>]*? width="([\d.]+)pt"')
"""How a drawing says its own width [1/72 in]."""


def printed(picture: Picture) -> Shown:
    """A report's picture in its own size, its letters as large as they say."""
    found = _POINTS.search(picture.content)
    size = None if found is None else float(found[1]) / 72.0 * 0.0254
    return Shown(picture.content, picture.kind, picture.caption, picture.alt, size=size)


@on_paper()
def opening(habitat: Habitat, findings: Sequence[Finding], system: str) -> tuple[Block, ...]:
    """Beside the contents: how many findings are how, what is missed, who decides."""
    report = check_report(habitat, findings, system)
    blocks: list[Block] = [
        Heading("How it stands"),
        Counts(tuple((s, STATES[s], report.counts[s]) for s in COUNT_ORDER)),
    ]
    missed = []
    for group in report.groups:
        titles = [f.title for f in group.findings if f.finding.state is State.MISSED]
        if titles:
            missed.append((group.heading.partition(" (")[0],
                           capital(listing(list(dict.fromkeys(titles))))))  # fmt: skip
    if missed:
        blocks.append(Table("Missed", ("for", "what"), tuple(missed)))
    blocks.append(Words(report.coverage))
    if report.caution:
        blocks.append(Words(report.caution, "note"))
    return tuple(blocks)


@on_paper()
def habitat_section(
    habitat: Habitat, drawings: Sequence[tuple[str, bytes]], system: str
) -> Section:
    """What is built, in words, then plan, front and side drawings on pages of their own."""
    lead = (
        "What is built, and where everything sits. Places are measured from the inner front left "
        "corner at the inside floor: to the right, to the back, up. The drawings on the next pages "
        "are to the scale they name when they are printed at full size."
    )
    told = tuple((a, b) for a, b in facts(habitat, system) if a not in ("plants", "lamps"))
    blocks: list[Block] = [Words(lead, "lead"), Facts(told)]
    blocks += [t for t in _inside(habitat, system) if t.rows]
    timed = equipment_tables(habitat, system)
    mounted = mount_table(habitat, system)
    if timed or mounted.rows:
        blocks += [Heading("What is hung, set and timed"), *timed]
        blocks += [mounted] if mounted.rows else []
    for name, content in drawings:
        what = name.rpartition(".")[0]
        blocks.append(Sheet(content, "svg", f"{capital(what)} of the habitat to scale"))
    return Section("habitat", "The habitat", tuple(blocks))


def _inside(habitat: Habitat, system: str) -> list[Table]:
    """What stands and grows in it, and where."""

    def at(place: Sequence[float]) -> str:
        return quantities.place(place, system).strip("[]")

    plants = tuple(
        (
            clean(p.name),
            clean(p.type.label),
            at(p.foot),
            quantities.length(p.height, system),
            quantities.length(p.spread, system),
        )
        for p in habitat.plants
    )
    return [
        pieces_table(habitat, system),
        bowls_table(habitat, system),
        Table("Plants", ("name", "what", "foot: x, y, z", "height", "spread"), plants,
              right=frozenset({3, 4}), note=STEMS if plants else ""),
    ]  # fmt: skip


STEMS = (
    "Stems are drawn straight up from the foot; lead a stem that meets a piece past it, and tie it "
    "loosely until it holds itself."
)
"""What is said of plants as drawn; common practice."""


@on_paper()
def findings_section(habitat: Habitat, findings: Sequence[Finding], system: str) -> Section:
    """Every finding with its source, worst first."""
    report = check_report(habitat, findings, system)
    lead = (
        "Each need held against what is computed: the value, the band that is wanted, where, when, "
        "why, and who says that it is needed. What is missed stands first. Sources in italics have no "
        "document behind them."
    )
    return Section("findings", "Findings", (
        Words(lead, "lead"),
        Counts(tuple((s, STATES[s], report.counts[s]) for s in COUNT_ORDER)),
        Found(report.groups),
    ))  # fmt: skip


@on_paper()
def light_section(sites: Sequence[SiteValues], pictures: Named, system: str) -> Section:
    """Light through the habitat and at its sites."""
    by_name = dict(pictures)
    blocks: list[Block] = [Words(
        "Computed for new lamps, or as many hours as the file says they have run. Numbers on the "
        "drawings stand at the places they belong to; measure them again before an animal moves in.",
        "lead",
    )]  # fmt: skip
    # In their own size; a table under each drawing that leaves room for one, on both papers.
    up = sites_table(sites, "up", system)
    places = [row[-1] for row in places_table(sites, system).rows]
    up = replace(up, columns=(*up.columns, "x, y, z"),
                 rows=tuple((*row, at) for row, at in zip(up.rows, places, strict=True)))  # fmt: skip
    tables = {"uvi-z": sites_table(sites, "brightest", system), "ppfd-z": up}
    for name in ("uvi-y", "uvi-x", "uvi-z", "ppfd-z", "ppfd-y", "ppfd-x"):
        found = by_name.get(f"{name}.svg")
        if found is not None:
            blocks.append(printed(found))
        if name in tables:
            blocks.append(tables[name])
    return Section("light", "Light", tuple(blocks))


@on_paper()
def climate_section(
    habitat: Habitat, runs: Mapping[str, ClimateRun], pictures: Named, system: str
) -> Section:
    """The typical days: charts, sections of the air, tables."""
    from loamwright.report.day_blocks import day_tables

    by_name = dict(pictures)
    blocks: list[Block] = [Words(
        "Typical days in the room that the file describes, run until each repeats itself. Clock times "
        "are those of the room.", "lead",
    )]  # fmt: skip
    charts = ("day-{}.svg", "air-{}.svg", "humidity-{}.svg")
    for season, run in runs.items():
        for name in (c.format(season) for c in charts):
            if name in by_name:
                own = name.startswith(("air", "humidity"))
                blocks.append(printed(by_name[name]) if own else as_shown(by_name[name]))
        blocks += plain_titles(day_tables(habitat, run, system), habitat)
    if "sums.svg" in by_name:
        blocks.append(as_shown(by_name["sums.svg"]))
    return Section("climate", "Heat, humidity and air", tuple(blocks))


@on_paper()
def ground_section(
    habitat: Habitat, amount: Quantities, water: Coupled | None, chart: bytes, system: str
) -> Section:
    """Layers, what to buy for them, loads, water over weeks."""
    from loamwright.report.ground_blocks import ground_tables

    priced = {p.key for p in habitat.money.price_list} if habitat.money is not None else set()
    caption = "Layers to scale, and the water in them over eight weeks from winter on"
    blocks: list[Block] = [
        Words("Layers from the top down, what they weigh and how their water behaves. Depths are as "
              "settled; tip in as much as the column beside says.", "lead"),
        Shown(chart, "svg", caption),
        *plain_titles(ground_tables(habitat, amount, water, system, priced=priced), habitat),
    ]  # fmt: skip
    return Section("ground", "Ground", tuple(blocks))


@on_paper()
def life_section(
    habitat: Habitat, animals: Animals | None, planting: Planting | None, life: SmallLife | None,
    charts: Mapping[str, bytes], system: str, order: OrderOfWork | None = None,
) -> Section:  # fmt: skip
    """Animals, plants, decomposers: tables and charts; moving in on the days of the ``order``."""
    blocks: list[Block] = []
    if animals is not None:
        from loamwright.report.animals_blocks import animals_tables

        blocks.append(Heading("Animals"))
        blocks += [Shown(charts[name], "svg", "What the animals can choose from")
                   for name in charts if name.startswith("animals")]  # fmt: skip
        blocks += plain_titles(animals_tables(habitat, animals, system, order), habitat)
    if planting is not None:
        from loamwright.report.plants_blocks import plants_tables

        blocks.append(Heading("Plants"))
        if "plants" in charts:
            blocks.append(Shown(charts["plants"], "svg", "The plants over a year"))
        blocks += plain_titles(plants_tables(habitat, planting, system), habitat)
    if life is not None:
        from loamwright.report.decomposers_blocks import decomposers_tables

        blocks.append(Heading("What lives in the ground"))
        if "decomposers" in charts:
            blocks.append(
                Shown(charts["decomposers"], "svg", "The ground's small life over a year")
            )
        blocks += plain_titles(decomposers_tables(habitat, life, system), habitat)
    there = [
        *(["animals"] if animals is not None else []), *(["plants"] if planting is not None else []),
        *(["decomposers"] if life is not None else []),
    ]  # fmt: skip
    return Section("life", capital(", ".join(there)) or "Life", tuple(blocks))


@on_paper()
def drills_section(
    habitat: Habitat, drills: Sequence[Drill], charts: Sequence[tuple[str, bytes]], system: str
) -> Section:
    """What fails, what follows: those that pass a limit first."""
    from loamwright.report import drill_report

    told = [drill_report.told(habitat, d, system) for d in drills]
    passing = [t for t in told if t.passed]
    others = [t for t in told if not t.passed]
    blocks: list[Block] = [Words(
        "Each fault followed for two days from a typical day. The soonest danger stands first; what "
        "would prevent it was tried where the program can try it.", "lead",
    )]  # fmt: skip
    if passing:
        blocks.append(Heading("Faults that pass a limit of a resident"))
    blocks += [Table(capital(t.heading), ("", ""), t.lines) for t in passing]
    if others:
        labels = ("hottest", "coldest", "uses")
        rows = []
        for t in others:
            said = dict(t.lines)
            rows.append((capital(t.heading), *(said.get(label, "as usual") for label in labels)))
        blocks.append(Heading("Faults that pass no limit of a resident, as far as known"))
        blocks.append(Table("", ("what fails", *labels), tuple(rows), note=JUDGED))
    unknown = drill_report.unknown_limits(habitat, drills)
    if unknown:
        blocks.append(Words(f"No limit is known, or no place is named, of {listing(unknown)}."))
    blocks.append(Caution("What to keep ready", drill_report.CAUTION))
    shown = [Shown(content, "svg", capital(words)) for words, content in charts]
    if shown:
        blocks.append(Heading("The soonest dangers, hour by hour"))
    # One under another: side by side their letters would be too small to read.
    blocks += shown
    return Section("drills", "What fails, what follows", tuple(blocks))


@on_paper()
def care_section(habitat: Habitat, cares: Sequence[Care], system: str) -> Section:
    """The owner's care guide."""
    from loamwright.report.care_blocks import NOTE, care_tables

    tables = care_tables(habitat, cares, system)
    blocks: list[Block] = [
        Words("For whoever keeps the habitat: what to do each day, week, month and year.", "lead"),
        *tables[:-1],
        *(replace(t, note=NOTE) for t in tables[-1:]),
    ]
    return Section("care", "Care guide", tuple(blocks))


@on_paper()
def sources_section(habitat: Habitat, findings: Sequence[Finding], system: str) -> Section:
    """Where limits come from, and what the file left out."""
    lead = (
        "The sources of the limits that findings are held against, and what was taken where the file "
        "says nothing. The catalogue that it is planned with names the source of every number of every "
        "lamp, plant and animal; ask whoever planned this."
    )
    return Section("sources", "Sources and defaults", (
        Words(lead, "lead"), _limits_table(findings, system), _defaults(habitat, system),
    ))  # fmt: skip


def _defaults(habitat: Habitat, system: str) -> Table:
    """What the file left out, in plain words."""
    table = defaults_table(habitat)
    rows = tuple(
        (field_words(a), value_words(b, system), why_words(c, system)) for a, b, c in table.rows
    )
    return replace(table, columns=("what is not said", "taken instead", "why"), rows=rows)


def _limits_table(findings: Iterable[Finding], system: str) -> Table:
    """Each source of a limit once, with what it is the source for, in words."""
    used: dict[str, dict[str, None]] = {}
    for finding in findings:
        used.setdefault(source_words(finding.source, system), {})[title_words(finding)] = None
    rows = tuple((text, "; ".join(titles)) for text, titles in used.items())
    return Table("Sources of the limits", ("source", "for"), rows)
