"""The pack as a person asks for it: everything a build needs, in one folder."""

from __future__ import annotations

import datetime
import hashlib
from collections.abc import Callable
from dataclasses import dataclass, field, replace
from pathlib import Path
from typing import TYPE_CHECKING, Any

from loamwright import pack_ahead
from loamwright.errors import InputError, Problem
from loamwright.workflow import (
    Checked,
    Note,
    check_habitat,
    days_known,
    drills,
    quiet,
    read,
    results_in,
    writing_folder,
)

if TYPE_CHECKING:
    from loamwright.engine.climate.drills import Drill
    from loamwright.engine.findings import Finding
    from loamwright.engine.ground.quantities import Quantities
    from loamwright.habitat.habitat import Habitat
    from loamwright.plan.whole import Plan
    from loamwright.report.pack_pdf import Document
    from loamwright.report.typst_blocks import Section, Shown

CHARTS_OF_DRILLS = 4
"""Faults drawn in the pack: those that pass a limit first."""

PDF, QUOTE = "pack.pdf", "quote.pdf"

Date = tuple[int, int, int]
"""Year, month, day."""


@dataclass(frozen=True)
class Packed:
    """A habitat, its findings, and the files of its pack."""

    habitat: Habitat
    findings: list[Finding]
    written: tuple[Path, ...]

    @property
    def missed(self) -> bool:
        """True if any need is missed."""
        return any(f.state == "missed" for f in self.findings)


@dataclass
class Work:
    """What the pack is made of while it is made: results, then ``sections`` and ``files`` by name;
    ``store`` holds pictures between runs (`workflow.results_in`), ``ahead`` waits for those that are
    drawn meanwhile (`pack_ahead.begin`)."""

    checked: Checked
    drills: list[Drill]
    amount: Quantities
    plan: Plan
    system: str
    paper: str
    date: Date
    store: Any
    note: Note
    ahead: Callable[[], None] = lambda: None
    sections: list[Section] = field(default_factory=list)
    files: dict[str, bytes] = field(default_factory=dict)

    @property
    def habitat(self) -> Habitat:
        """The habitat of the pack."""
        return self.checked.habitat


def pack(
    path: Path, folder: Path, *, date: Date, start: Date | None = None, paper: str = "a4",
    units: str | None = None, made: str = "", kept: Path | None = None, force: bool = False,
    note: Note = quiet,
) -> Packed:  # fmt: skip
    """Write the pack of a habitat into a folder: whole, or nothing of it.

    Parameters
    ----------
    path : Path
        The habitat file.
    folder : Path
        Where the pack goes; made where it is not there.
    date : tuple of int
        Year, month and day on the cover and in every file; the same input and date give the same
        bytes.
    start : tuple of int, optional
        The day on which work begins; the file's, else ``date``, when left out.
    paper : str
        ``a4`` or ``letter``.
    units : str, optional
        What people are shown in place of the file's own: ``metric`` or ``us``.
    made : str
        The program and its version, for the cover.

    Raises
    ------
    InputError
        If the file is wrong, or the folder cannot be written or holds such files already.
    """
    with writing_folder(folder) as half:
        half.check([PDF], force=force)
        note("reading the habitat")
        content = content_of(path)
        habitat = read(path)
        work = study(habitat, date=date, start=start, system=units or habitat.units,
                     paper=paper, kept=kept, note=note)  # fmt: skip
        files = files_of(work, hashlib.sha256(content).hexdigest(), made)
        written = half.move(files, force=force)
    return Packed(habitat, work.checked.findings, tuple(written))


def files_of(work: Work, checksum: str, made: str) -> dict[str, bytes]:
    """Every file of a pack by its name, the document first."""
    from loamwright.report.pack_pdf import typeset

    document = compose(work, checksum, made)
    work.note("setting the pages")
    files = {PDF: typeset(document, work.paper)[0], **dict(sorted(work.files.items()))}
    quote = [s for s in document.sections if s.key == "quote"]
    if quote:
        alone = replace(document, sections=tuple(quote), cover=None, opening=(), bare=True)
        files[QUOTE] = typeset(alone, work.paper)[0]
    return files


def content_of(path: Path) -> bytes:
    """A file's bytes, for its checksum."""
    try:
        return path.read_bytes()
    except OSError as error:
        problem = f"cannot be read: {error.strerror}"
        raise InputError(Problem(problem, file=str(path))) from error


def study(
    habitat: Habitat, *, date: Date, start: Date | None, system: str, paper: str,
    kept: Path | None, note: Note,
) -> Work:  # fmt: skip
    """Everything that has to be computed for a habitat's pack."""
    from loamwright.engine.ground.quantities import ground_quantities
    from loamwright.plan.whole import plan_of

    habitat = beginning(habitat, start, date)
    # Where the engines have run, another core begins at once; else it would only run them too.
    known = days_known(habitat, kept)
    ahead = pack_ahead.begin(habitat, system, kept if known else None)
    checked = check_habitat(habitat, kept=kept, note=note)
    ahead = ahead if known else pack_ahead.begin(habitat, system, kept)
    found = drills(habitat, kept=kept, note=note) if habitat.sites else []
    amount = ground_quantities(habitat, us=system == "us")
    outlooks = checked.water.outlooks if checked.water else ()
    note("planning the build")
    plan = plan_of(
        habitat, amount=amount, days=checked.climate, light=checked.light,
        findings=checked.findings, outlooks=outlooks, planting=checked.plants, life=checked.life,
    )  # fmt: skip
    return Work(checked, found, amount, plan, system, paper, date, results_in(kept), note, ahead)


def beginning(habitat: Habitat, start: Date | None, date: Date) -> Habitat:
    """The habitat with the day on which its build begins: ``start``, else the file's, else ``date``."""
    if start is None and habitat.workshop.start:
        return habitat
    day = datetime.date(*(start or date))
    workshop = replace(habitat.workshop, start=day.isoformat(), weekday=day.weekday())
    return replace(habitat, workshop=workshop)


def compose(work: Work, checksum: str, made: str) -> Document:
    """The document, its sections in their order; files beside it are put into ``work.files``."""
    from loamwright.report import pack_sections as engines
    from loamwright.report.overview import facts
    from loamwright.report.pack_cautions import caution_blocks
    from loamwright.report.pack_pdf import Document
    from loamwright.report.pack_words import words_section
    from loamwright.report.paper_words import plain_section
    from loamwright.report.plain import clean
    from loamwright.report.stamp import stamp_words
    from loamwright.report.typst_blocks import Section

    habitat, checked, system = work.habitat, work.checked, work.system
    year, month, day = work.date
    on = f"{year:04d}-{month:02d}-{day:02d}"
    add: Callable[[Section], None] = work.sections.append
    _habitat_pages(work)
    add(engines.findings_section(habitat, checked.findings, system))
    _light_and_days(work)
    _ground_and_life(work)
    plan_pages(work, on)
    if work.drills:
        add(engines.drills_section(habitat, work.drills, _charts_of_drills(work), system))
    money_pages(work, on)
    add(engines.care_section(habitat, work.plan.care, system))
    add(Section("cautions", "Cautions", caution_blocks()))
    work.sections = [plain_section(s) for s in work.sections]
    work.sections.append(words_section(work.sections))
    work.sections.append(plain_section(engines.sources_section(habitat, checked.findings, system)))
    return Document(
        title=clean(habitat.name), kicker="habitat pack: everything the build needs",
        purpose=PURPOSES.get(habitat.purpose, clean(habitat.purpose)),
        facts=tuple(facts(habitat, system)), date=work.date, made=f"{on}, {made}".rstrip(", "),
        checksum=checksum, foot=f"{on}, file {checksum[:12]}", sections=tuple(work.sections),
        opening=engines.opening(habitat, checked.findings, system), cover=_cover(work),
        stamp=stamp_words(checked.findings),
    )  # fmt: skip


PURPOSES: dict[str, str] = {
    "exhibit": "an exhibit", "breeding": "for breeding", "retail": "for a shop",
    "private": "for a private keeper",
}  # fmt: skip


def _cover(work: Work) -> Shown:
    """The picture on the cover."""
    from loamwright.report.typst_blocks import Shown

    work.ahead()
    work.note("drawing the cover")
    content = pack_ahead.cover(work.habitat, work.system, work.store)
    return Shown(content, "jpg", alt=f"{work.habitat.name}, seen from the front")


def _habitat_pages(work: Work) -> None:
    """The drawings of the habitat, on pages and as files."""
    from loamwright.report import pack_sections as engines
    from loamwright.report.gltf import gltf
    from loamwright.report.plan_drawing import drawings

    work.files["model/habitat.glb"] = gltf(work.habitat)
    work.note("drawing plan, front and side")
    drawn = drawings(work.habitat, work.system, work.paper)
    pages = [(name, content) for name, content in drawn if name.endswith(".svg")]
    work.sections.append(engines.habitat_section(work.habitat, pages, work.system))
    for name, content in drawn:
        where = "drawings" if name.endswith(".svg") else "cad"
        work.files[f"{where}/{name}"] = content


def _light_and_days(work: Work) -> None:
    from loamwright.report import pack_sections as engines

    checked, system = work.checked, work.system
    work.ahead()
    light = pack_ahead.light(checked, system, work.store, work.note)
    days = pack_ahead.days(checked, system, work.store, work.note)
    work.sections.append(engines.light_section(checked.light.sites, light, system))
    work.sections.append(engines.climate_section(work.habitat, checked.climate, days, system))


def _ground_and_life(work: Work) -> None:
    from loamwright.report import pack_sections as engines

    habitat, checked, system = work.habitat, work.checked, work.system
    if habitat.ground.layers:
        from loamwright.report.ground_charts import ground_chart

        work.note("drawing the ground")
        chart = ground_chart(habitat, work.amount, checked.water, "svg", system)
        work.sections.append(
            engines.ground_section(habitat, work.amount, checked.water, chart, system)
        )
    charts: dict[str, bytes] = {}
    if checked.animals is not None:
        from loamwright.report.choice_chart import choice_chart, drawable

        for number, one in enumerate(r for r in checked.animals.residents if drawable(r)):
            charts[f"animals {number}"] = choice_chart(habitat, [one], "svg", system)
    if checked.plants is not None:
        from loamwright.report.plants_charts import plants_chart

        charts["plants"] = plants_chart(habitat, checked.plants, "svg", system)
    if checked.life is not None:
        from loamwright.report.decomposers_charts import decomposers_chart

        charts["decomposers"] = decomposers_chart(habitat, checked.life, "svg", system)
    work.sections.append(
        engines.life_section(habitat, checked.animals, checked.plants, checked.life, charts, system,
                             work.plan.order)
    )  # fmt: skip


def plan_pages(work: Work, on: str) -> None:
    """Sections of the plan before the drills, with their files."""
    from loamwright.report import pack_plan, plan_out
    from loamwright.report.calendar_ics import order_ics
    from loamwright.report.order_blocks import start_date
    from loamwright.report.order_chart import order_chart

    habitat, plan, system = work.habitat, work.plan, work.system
    start = start_date(habitat.workshop.start)
    assert start is not None, "`beginning` sets it"
    work.sections.append(pack_plan.shopping_section(plan.money, system))
    work.files["lists/shopping.csv"] = plan_out.shopping_csv(plan.money, system).encode()
    _workshop_pages(work)
    work.note("drawing the order of work")
    chart = order_chart(plan.order, start, width=8.0, system=system)
    work.sections.append(pack_plan.order_section(plan.order, start, chart, system))
    stamp = datetime.datetime(*work.date, tzinfo=datetime.UTC)
    work.files["lists/order-of-work.csv"] = plan_out.order_csv(plan.order, start, system).encode()
    work.files["lists/order-of-work.ics"] = order_ics(
        plan.order, habitat.name, start, stamp, system
    )
    work.files["drawings/order-of-work.svg"] = chart


def _workshop_pages(work: Work) -> None:
    """Cuts, wiring and water, strength, with drawings and CAD files."""
    from loamwright.report import pack_workshop as workshop
    from loamwright.report.cut_drawing import WIDTH, sheet_drawings
    from loamwright.report.dxf import cut_files
    from loamwright.report.mist_drawing import mist_drawing
    from loamwright.report.wiring_drawing import wiring_drawing

    habitat, plan, system = work.habitat, work.plan, work.system
    work.note("drawing the cuts")
    sheets = sheet_drawings(plan.cuts, "svg", system)
    work.sections.append(workshop.cuts_section(habitat, plan.cuts, sheets, WIDTH / 1000.0, system))
    work.files |= {f"drawings/{name}": content for name, content in sheets}
    work.files |= {f"cad/{name}": content for name, content in cut_files(plan.cuts, system)}
    work.files["lists/cuts.csv"] = workshop.cuts_csv(plan.cuts).encode()
    work.note("drawing the wiring")
    wires = wiring_drawing(habitat, plan.build.wiring, system)
    line = plan.build.mist
    mist = mist_drawing(habitat, line, system) if line is not None else None
    work.sections.append(workshop.wiring_section(habitat, plan.build, wires, mist, system))
    work.files["drawings/wiring.svg"] = wires
    if mist is not None:
        work.files["drawings/misting-line.svg"] = mist
    work.sections.append(workshop.strength_section(habitat, plan.build.strength, system))


def money_pages(work: Work, on: str) -> None:
    """Costs, the customer's quote, the handover sheet, with their files."""
    from loamwright.report import codes, pack_plan, plan_out
    from loamwright.report.order_blocks import start_date
    from loamwright.report.pack_quote import quote_section
    from loamwright.report.plain import on_paper
    from loamwright.report.stamp import stamp_words

    habitat, plan, system = work.habitat, work.plan, work.system
    stamp = stamp_words(work.checked.findings)
    work.sections.append(pack_plan.costs_section(plan.money, system, stamp))
    work.files["lists/running-costs.csv"] = plan_out.running_csv(plan.money, system).encode()
    quote = quote_section(habitat, plan.money, on, system, stamp)
    if quote is not None:
        work.sections.append(quote)
    if plan.checks:
        pictures = codes.codes(plan.checks)
        start = start_date(habitat.workshop.start)
        with on_paper():
            # What stands under a code is told in full: it wraps.
            section = pack_plan.handover_section(
                habitat, plan, pictures, system, start, work.checked.findings
            )
        work.sections.append(section)
        work.files["lists/handover.csv"] = plan_out.handover_csv(plan.checks, system).encode()


def _charts_of_drills(work: Work) -> list[tuple[str, bytes]]:
    from loamwright.report.climate_words import fault_words
    from loamwright.report.drill_chart import picture_of

    out: list[tuple[str, bytes]] = []
    for drill in work.drills:
        if drill.first is None or len(out) >= CHARTS_OF_DRILLS:
            continue
        content = picture_of(work.habitat, drill, "svg", system=work.system)
        if content:
            out.append((fault_words(drill.key, drill.subject), content))
    return out
