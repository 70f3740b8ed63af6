"""The sections of the pack that the plan fills: buying, order of work, costs, quote, handover."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from datetime import date, timedelta
from typing import TYPE_CHECKING

from loamwright.engine.findings import Finding, State
from loamwright.habitat.habitat import Habitat
from loamwright.plan.handover_between import Season, season_of, told_of
from loamwright.report.blocks import Table
from loamwright.report.handover_blocks import BOX, between_words
from loamwright.report.money_blocks import why_table
from loamwright.report.money_words import thing
from loamwright.report.plain import clean, listing, on_paper
from loamwright.report.quantities import NAMES, worded
from loamwright.report.system_words import in_system
from loamwright.report.typst_blocks import (
    Block,
    Codes,
    Facts,
    Heading,
    NewPage,
    Section,
    Shown,
    Stamp,
    Ticks,
    Words,
)

if TYPE_CHECKING:
    from loamwright.plan.money import MoneyPlan
    from loamwright.plan.order import OrderOfWork
    from loamwright.plan.whole import Plan

BEFORE_ANIMALS: tuple[tuple[str, str], ...] = (
    ("Everything has cured and nothing smells", "silicone, foam, varnish; also with warm lamps on"),
    (
        "Fixings hold",
        "each pulled at by hand; heavy stones stand on the drainage layer or the floor, what lies on "
        "the ground cannot roll",
    ),
    ("Doors shut, lock and cannot be lifted out", "no gap that a resident's head passes"),
    ("Residual-current protection tried", "test button: everything goes dead"),
    ("Independent cut-outs tried", "each cuts its heat, and is set back"),
    ("Fixed wiring seen by a licensed electrician", "where the local code asks for it"),
    (
        "A full week of readings inside the limits",
        "go in every table of this sheet; ranges by the hour are what to expect, no limits",
    ),
    ("Quarantine is over", "the veterinarian has agreed; papers are at hand"),
)
"""What is ticked off before animals enter, beside the readings and the guards; common practice, no
source."""

LAST_OF_GEAR = "Independent cut-outs tried"
"""The guards are looked at after this."""


def guards_tick(
    habitat: Habitat, findings: Sequence[Finding], system: str
) -> tuple[tuple[str, str], ...]:
    """What is ticked of guards: that they are on where the plan has them, and what a lamp that can be
    touched without one comes to; nothing where there is neither lamp nor heater."""
    if not habitat.lamps:
        return ()
    guarded = [f"'{clean(x.name)}'" for x in habitat.lamps if x.guard is not None]
    bare = [_bare(f, system) for f in findings if f.need == "hot-lamp"]
    told = [f"round {listing(guarded)}; no hot part behind one can be touched"] if guarded else []
    if bare:
        told.append(
            f"without one, where an animal can touch it: {'; '.join(bare)}; measured, it is no hotter "
            "than computed"
        )
    else:
        told.append("no lamp or heater without one is where an animal can touch it")
    title = "Guards are on where the plan has them" if guarded else "No lamp or heater burns"
    return ((title, "; ".join(told)),)


def _bare(finding: Finding, system: str) -> str:
    """A lamp that can be touched, with its figure and what it is held to."""
    what = (
        f"'{clean(finding.about)}', computed {worded('surface_temperature', finding.value, system)}"
    )
    if finding.state is State.MISSED:
        return f"{what}, hotter than its limit: it needs a guard first"
    return f"{what}, limit {worded('surface_temperature', finding.high, system)}"


def before_animals(
    habitat: Habitat, order: OrderOfWork, findings: Sequence[Finding] = (), system: str = "metric"
) -> tuple[tuple[str, str], ...]:
    """`BEFORE_ANIMALS`, with the guards, and with what is seen of plants and of the ground's small
    life where there are any."""
    known = next(i for i, (what, _) in enumerate(BEFORE_ANIMALS) if what == LAST_OF_GEAR) + 1
    guards = guards_tick(habitat, findings, system)
    ticks = (*BEFORE_ANIMALS[:known], *guards, *BEFORE_ANIMALS[known:])
    settled = any(s.task.key == "starters" for s in order.steps)
    kinds = {x.species.kind for x in habitat.decomposers} if settled else set()
    what = [*(["plants root"] if habitat.plants else []),
            *(["the ground's small life is seen"] if kinds else [])]  # fmt: skip
    signs = ["new leaves"] if habitat.plants else []
    if "springtail" in kinds:
        signs.append("springtails on bait within a day")
    elif kinds:
        signs.append("some of each kind under litter or wood")
    if not what:
        return ticks
    told = ", ".join(what)
    seen = (told[0].upper() + told[1:], "; ".join(signs))
    return (*ticks[:-1], seen, ticks[-1])


def shopping_section(money: MoneyPlan, system: str) -> Section:
    """What to buy, a table a heading, and where each amount comes from."""
    from loamwright.report.plan_blocks import shopping_tables

    with on_paper():
        blocks: tuple[Block, ...] = (
            Words("Everything to buy, once. Tick off what is there.", "lead"),
            *(ticked(by_name(t, money, system)) for t in shopping_tables(money, system)),
            _why(money, system),
        )  # fmt: skip
    return Section("shopping", "Shopping list", blocks)


def _why(money: MoneyPlan, system: str) -> Table:
    """Where each amount comes from, by what the thing is called."""
    table = why_table(money, system)
    rows = tuple(
        (clean(thing(b.line, system)), *row[1:])
        for b, row in zip(money.bought, table.rows, strict=True)
    )
    return replace(table, columns=("what", *table.columns[1:]), rows=rows)


def by_name(table: Table, money: MoneyPlan, system: str) -> Table:
    """A table whose note calls what lacks a price by its name and not by the price list's key."""
    names = {b.line.key: thing(b.line, system) for b in money.bought}
    names |= {r.use.key: in_system(r.use.name, system) for r in money.running}
    note = table.note
    for key in sorted((*money.missing, *money.missing_year), key=len, reverse=True):
        if key in names:
            note = note.replace(clean(key), clean(names[key]))
    return replace(table, note=note)


def ticked(table: Table) -> Table:
    """The same table with a box to tick before each row."""
    return replace(
        table, columns=("", *table.columns), rows=tuple((BOX, *row) for row in table.rows),
        right=frozenset(k + 1 for k in table.right),
    )  # fmt: skip


def order_section(
    order: OrderOfWork, start: date | None, chart: bytes, system: str = "metric"
) -> Section:
    """Which work follows which, and when the animals may enter."""
    from loamwright.report.plan_blocks import order_tables

    with on_paper():
        tables = order_tables(order, start, system)
    return Section("order", "Order of work", (
        Words("What is done when, what can go on side by side, what has to cure, settle or grow first, "
              "and the day on which animals may enter.", "lead"),
        tables[0], Shown(chart, "svg", "The order of work", floats=True), *tables[1:],
    ))  # fmt: skip


def costs_section(money: MoneyPlan, system: str, stamp: str = "") -> Section:
    """What it costs to build and to run, for the builder; ``stamp`` as in `quote_section`."""
    from loamwright.report.plan_blocks import money_tables

    lead = (
        "For the builder's eyes: with wages and margin. What the customer gets stands on the next "
        "page, which can be taken out, and in a file of its own."
    )
    if not money.currency:
        lead = "The habitat file names no currency and no prices, so only work and use are told."
    with on_paper():
        tables = [by_name(t, money, system) for t in money_tables(money, system)]
        stamped = (Stamp(stamp),) if stamp else ()
        return Section("costs", "Costs", (*stamped, Words(lead, "lead"), *tables))


def _handed(habitat: Habitat, plan: Plan, start: date | None) -> Season | None:
    """The day of the handover between the seasons, where any was computed."""
    if start is None:
        return None
    day = start + timedelta(days=plan.order.step("handover").first)
    season = season_of(day.isoformat(), day.timetuple().tm_yday, habitat.schedule.latitude)
    return season if told_of(plan.checks, season) else None


def handover_section(
    habitat: Habitat, plan: Plan, codes: dict[str, bytes], system: str, start: date | None,
    findings: Sequence[Finding] = (),
) -> Section:  # fmt: skip
    """The handover sheet: ticks, readings with their limits on the day it is planned for, and a code
    for each place."""
    from loamwright.report.plan_blocks import handover_tables

    checks = plan.checks
    day = _handed(habitat, plan, start)
    told = [Words(between_words(checks, day))] if day is not None else []
    blocks: list[Block] = [
        Words("Filled in on site, before an animal enters. One no-go keeps the animals out.", "lead"),
        *told,
        Facts((("habitat", clean(habitat.name)), ("date and hour", "______________________"),
               ("read by", "______________________"), ("room, °C and %" if system == "metric"
                else "room, °F and %", "______________________"))),
        Heading("Before animals enter"),
        Ticks(before_animals(habitat, plan.order, findings, system)),
    ]  # fmt: skip
    with on_paper():
        blocks += handover_tables(checks, None, system, day, plan.felt)
    rows = [
        (codes[c.name], f"{c.name}\n{clean(c.site, 40)}\n{NAMES.get(c.quantity, c.quantity)}")
        for c in checks
        if c.name in codes
    ]
    if rows:
        blocks += [
            NewPage(), Heading("Codes"),
            Words("Cut out and fix beside the place; the logbook reads them."),
        ]  # fmt: skip
        blocks.append(Codes(tuple(rows)))
    return Section("handover", "Handover sheet", tuple(blocks))
