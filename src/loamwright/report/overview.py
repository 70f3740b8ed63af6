"""One self-contained HTML page that says what was found: for the builder and the customer.

No script, no outside address, pictures inside the page; it prints on A4 and reads on a phone.
"""

from __future__ import annotations

import base64
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from pathlib import Path

from loamwright.engine.findings import Finding, State
from loamwright.habitat.habitat import Habitat
from loamwright.report import quantities
from loamwright.report.blocks import (
    COUNT_ORDER,
    CheckReport,
    SiteValues,
    Table,
    check_report,
    defaults_table,
    places_table,
    sites_table,
    sources_table,
)
from loamwright.report.equipment_blocks import equipment_tables
from loamwright.report.figure import write_whole
from loamwright.report.plain import clean, listing
from loamwright.report.terminal import SYMBOLS
from loamwright.report.words import STATES

CAUTIONS: tuple[tuple[str, str], ...] = (
    (
        "Ultraviolet on eyes and skin",
        "UV lamps can hurt eyes and skin, people's as well as animals'. Switch them off before "
        "working inside, do not look into them, and measure with a UV index meter before an animal "
        "moves in.",
    ),
    (
        "Mains near water",
        "Mist, drips and wet ground reach further than planned. Use equipment made for damp places "
        "behind residual-current protection, with drip loops in the cables, and unplug it before "
        "reaching in.",
    ),
    (
        "Hot lamps",
        "Lamps and their housings burn skin and can set fire to what is near. Guard what an animal "
        "can reach, keep the distances the lamp's maker gives, and keep litter and leaves away.",
    ),
    (
        "Who decides",
        "This page is computed and not a survey. Local codes, licensed trades and a veterinarian "
        "decide; where they say otherwise, they are right.",
    ),
)
"""What can hurt somebody, and the plain statement of who decides."""


@dataclass(frozen=True, slots=True)
class Picture:
    """A picture to put into the page: file bytes, their ``kind`` (``svg`` or ``png``), a caption
    and what it shows for those who cannot see it; ``lead`` True for one that stands first."""

    content: bytes
    kind: str
    caption: str
    alt: str = ""
    lead: bool = False

    @property
    def address(self) -> str:
        """The picture as a data address; a picture in an image element runs no script."""
        kinds = {"svg": "image/svg+xml", "png": "image/png"}
        return f"data:{kinds[self.kind]};base64,{base64.b64encode(self.content).decode('ascii')}"


def facts(habitat: Habitat, system: str = "metric") -> list[tuple[str, str]]:
    """What is built and who lives there, as label and text."""
    word, _ = quantities.edge(system)
    size = " × ".join(quantities.measure(x, system) for x in habitat.enclosure.inside)
    rows = [
        ("inside", f"{size} {word} (width × depth × height)"),
        ("purpose", clean(habitat.purpose)),
    ]
    if habitat.ground.layers:
        parts = [
            f"{clean(x.name)} {quantities.length(x.depth, system)}"
            for x in habitat.ground.layers
            if x.depth > 0
        ]
        rows.append(("ground", f"{', '.join(parts)} (from below)"))
    residents = []
    for group in habitat.animals:
        counted = [
            f"{n} {what}"
            for n, what in (
                (group.males, "male" if group.males == 1 else "males"),
                (group.females, "female" if group.females == 1 else "females"),
                (group.young, "young"),
            )
            if n
        ]
        count = f": {listing(counted)}" if counted else ""
        residents.append(f"{clean(group.species.label)} ({clean(group.species.latin)}){count}")
    if residents:
        rows.append(("residents", "; ".join(residents)))
    if habitat.plants:
        names = [f"{clean(p.name)} ({clean(p.type.label)})" for p in habitat.plants]
        rows.append(("plants", ", ".join(names)))
    if habitat.lamps:
        lamps = []
        for lamp in habitat.lamps:
            dim = f", dimmed to {quantities.percent(lamp.dim)}" if lamp.dim < 1 else ""
            lamps.append(f"{clean(lamp.name)} ({clean(lamp.type.label)}{dim})")
        power = sum(lamp.type.power for lamp in habitat.lamps)
        rows.append(("lamps", f"{'; '.join(lamps)}; {power:.0f} W together, undimmed"))
    return rows


def _misses(report: CheckReport) -> list[tuple[str, str]]:
    """What is missed, in few words: for whom, and what."""
    out = []
    for group in report.groups:
        titles = [f.title for f in group.findings if f.finding.state is State.MISSED]
        if titles:
            out.append((group.heading.partition(" (")[0], listing(list(dict.fromkeys(titles)))))
    return out


def overview_html(
    habitat: Habitat,
    findings: Iterable[Finding],
    sites: Sequence[SiteValues] = (),
    pictures: Sequence[Picture] = (),
    *,
    system: str = "metric",
    made: str = "",
    work: Sequence[Table] = (),
) -> str:
    """The page as text.

    ``sites`` the light at the sites, ``pictures`` the sections, ``work`` further tables of what is
    built and kept (the ground, drills), ``made`` a date or file name to print under the title (time
    is given, never looked up: the same input gives the same page).
    """
    from importlib.resources import files

    from jinja2 import Environment, StrictUndefined

    findings = list(findings)
    report = check_report(habitat, findings, system)
    source = files("loamwright").joinpath("data/templates/overview.html.j2").read_text("utf-8")
    # Names come from a file anybody may have written: everything is escaped.
    environment = Environment(autoescape=True, undefined=StrictUndefined, trim_blocks=True,
                              lstrip_blocks=True, keep_trailing_newline=True)  # fmt: skip
    tables = []
    if sites:
        tables = [sites_table(sites, f, system) for f in ("brightest", "up")]
        tables.append(places_table(sites, system))
    return environment.from_string(source).render(
        report=report,
        facts=facts(habitat, system),
        counts=[(s.value, SYMBOLS[s], STATES[s], report.counts[s]) for s in COUNT_ORDER],
        symbols=SYMBOLS,
        met=State.MET,
        misses=_misses(report),
        leads=[p for p in pictures if p.lead],
        pictures=[p for p in pictures if not p.lead],
        tables=tables,
        equipment=equipment_tables(habitat, system),
        work=work,
        sources=sources_table(findings, system),
        defaults=defaults_table(habitat),
        cautions=(("What is checked", report.coverage), *CAUTIONS),
        made=clean(made),
    )


def write_overview(
    path: Path,
    habitat: Habitat,
    findings: Iterable[Finding],
    sites: Sequence[SiteValues] = (),
    pictures: Sequence[Picture] = (),
    *,
    system: str = "metric",
    made: str = "",
    work: Sequence[Table] = (),
) -> Path:
    """Write the page to a file, whole or not at all; see `overview_html`."""
    page = overview_html(habitat, findings, sites, pictures, system=system, made=made, work=work)
    write_whole(path, page.encode("utf-8", "replace"))
    return path
