"""The parts of *Build*: each is laid out here, and gives back what freshens it."""

from __future__ import annotations

from collections.abc import Callable
from typing import TYPE_CHECKING, Any, Protocol
from urllib.parse import quote

from nicegui import ui

from loamwright.report.plain import capital, clean
from loamwright.web import build_data, forms
from loamwright.web.parts import (
    FormSheet,
    OrderChart,
    PackSheet,
    ShoppingList,
    TableSheet,
    Takes,
    TaskTable,
)

if TYPE_CHECKING:
    from loamwright.plan.whole import Plan
    from loamwright.report.blocks import Table
    from loamwright.web.desk import Desk
    from loamwright.web.shell import View

PRACTICE = (
    "Times of common practice stand where nothing is typed. Type your own, such as 5 h or 90 min; "
    "empty a box to go back."
)

ELECTRICIAN = (
    "Local codes go before all of this. Mains wiring near water is work for a licensed electrician, "
    "who checks it before it is switched on."
)

ENGINEER = (
    "Computed for plain panels held at their edges and for what the file says of stand and room. "
    "Cracks, knots, poor glue and old floors are not in it: a structural engineer decides."
)


class BuildPage(Protocol):
    """The page that a part is of: what is shown on it, and what a person does there."""

    view: View
    desk: Desk
    season: str
    hourly: bool
    drawn: dict[str, list[tuple[str, str]]]

    @property
    def plan(self) -> Plan | None: ...  # noqa: D102
    def wait(self) -> str: ...  # noqa: D102
    def shown(self, tables: list[Table]) -> list[dict[str, Any]]: ...  # noqa: D102
    def form_of(self, section: str) -> FormSheet: ...  # noqa: D102
    async def price(self, said: Any) -> None: ...  # noqa: D102
    async def time(self, said: Any) -> None: ...  # noqa: D102
    def ask(self, said: Any) -> None: ...  # noqa: D102
    def make_pack(self, said: Any) -> None: ...  # noqa: D102
    def stop_pack(self, said: Any) -> None: ...  # noqa: D102
    def draw(self) -> None: ...  # noqa: D102


def _link(page: BuildPage, words: str, what: str) -> list[str]:
    return [words, f"/get/{what}?file={quote(page.view.name)}", what]


def form(page: BuildPage, section: str) -> dict[str, Any]:
    """The form of a section of the file."""
    return forms.form(page.desk.draft, (section,), page.view.system)


def shopping(page: BuildPage) -> Callable[[], None]:
    """The shopping list with its prices, and the quote."""
    from loamwright.report.money_blocks import quote_table, running_table
    from loamwright.report.money_words import in_system, money

    def data() -> tuple[dict[str, Any], dict[str, Any], dict[str, Any]]:
        plan, draft = page.plan, page.desk.draft
        if plan is None:
            return {"why": page.wait()}, {"tables": []}, {"title": "Labour", "tasks": []}
        found = build_data.shopping(draft, plan, page.view.system)
        if not page.desk.building.planned.whole:
            found["waiting"] = (
                "What lives in the ground and what a year takes are not in it yet: the engines are "
                "still at work."
            )
        system = page.view.system
        costs = {capital(clean(in_system(x.task, system), 110)): money(x.cost, plan.money.currency)
                 for x in plan.money.labour}  # fmt: skip
        labour = {"title": "Labour", "about": PRACTICE,
                  "tasks": build_data.tasks(draft, plan.order, system),
                  "costs": costs, "currency": clean(plan.money.currency, 3),
                  "note": "Cost: of all hands together, at what an hour is charged at."}  # fmt: skip
        quotes = [quote_table(plan.money)] if plan.money.currency else []
        return found, {"tables": page.shown(quotes)}, labour

    def year() -> dict[str, Any]:
        plan = page.plan
        found = [] if plan is None else [running_table(plan.money, page.view.system)]
        return {"tables": page.shown(found)}

    found, sums, labour = data()
    with ui.element("div").classes("build-two"):
        quote_part = TableSheet(sheet=sums)
        with ui.element("div").classes("panel build-form"):
            money_form = page.form_of("money")
    list_part = ShoppingList(sheet=found)
    list_part.hear("price", page.price)
    Takes(sheet={"links": [_link(page, "shopping list (CSV)", "shopping.csv")]})
    work = TaskTable(sheet=labour)
    work.hear("time", page.time)
    year_part = TableSheet(sheet=year())

    def give() -> None:
        found, sums, labour = data()
        year_part.give(sheet=year())
        list_part.give(sheet=found)
        quote_part.give(sheet=sums)
        work.give(sheet=labour)
        money_form.give(form=form(page, "money"))

    return give


def cuts(page: BuildPage) -> Callable[[], None]:
    """Parts, sheets, the order of cuts, and a drawing of every sheet."""
    from loamwright.report.cut_blocks import cut_tables

    def data() -> tuple[dict[str, Any], dict[str, Any]]:
        plan, habitat = page.plan, page.desk.building.planned.habitat
        if plan is None or habitat is None:
            return {"heading": "Cuts", "told": [page.wait()], "tables": []}, {}
        drawn = page.drawn.get("cuts")
        about = "Each drawing is to the scale that it names." if drawn else "They are being drawn."
        return (
            {"tables": page.shown(cut_tables(habitat, plan.cuts, page.view.system))},
            {"title": "Sheets and rolls", "about": about, "drawn": drawn or [],
             "links": [_link(page, "cut list (CSV)", "cuts.csv"),
                       _link(page, "drawings for the saw (DXF, in a ZIP)", "cuts.zip")]},
        )  # fmt: skip

    sheet, drawn = data()
    drawn_part, tables = Takes(sheet=drawn), TableSheet(sheet=sheet)
    page.draw()

    def give() -> None:
        sheet, drawn = data()
        drawn_part.give(sheet=drawn)
        tables.give(sheet=sheet)

    return give


def feeds(page: BuildPage) -> Callable[[], None]:
    """Wiring, water and strength: tables and drawings."""
    from loamwright.report.mist_blocks import mist_line_tables
    from loamwright.report.strength_blocks import strength_tables
    from loamwright.report.wiring_blocks import wiring_tables

    def data() -> list[dict[str, Any]]:
        plan, habitat, system = page.plan, page.desk.building.planned.habitat, page.view.system
        if plan is None or habitat is None:
            return [{"heading": "Wiring, water, strength", "told": [page.wait()], "tables": []},
                    {}, {"tables": []}, {}, {"tables": []}]  # fmt: skip
        made, mist = plan.build, plan.build.mist
        line = [] if mist is None else page.shown(mist_line_tables(habitat, mist, system))
        return [
            {"heading": "Wiring", "told": [ELECTRICIAN], "tables": []},
            {"title": "How it is wired", "drawn": page.drawn.get("wiring", [])},
            {"tables": page.shown(wiring_tables(habitat, made.wiring, system))},
            {"title": "The misting line" if mist is not None else "",
             "drawn": page.drawn.get("mist", [])},
            {"tables": [*line, *page.shown(strength_tables(habitat, made.strength, system))],
             "heading": "Strength", "told": [ENGINEER]},
        ]  # fmt: skip

    kinds = (TableSheet, Takes, TableSheet, Takes, TableSheet)
    parts = [kind(sheet=sheet) for kind, sheet in zip(kinds, data(), strict=True)]
    page.draw()

    def give() -> None:
        for part, sheet in zip(parts, data(), strict=True):
            part.give(sheet=sheet)

    return give


def order(page: BuildPage) -> Callable[[], None]:
    """The order of work: who and when, its chart, the day animals may enter and why, every task."""

    def data() -> list[dict[str, Any]]:
        plan, draft = page.plan, page.desk.draft
        habitat = page.desk.building.planned.habitat
        if plan is None or habitat is None:
            return [{"why": page.wait()}, {"tables": []}, {"title": "Tasks", "tasks": []},
                    {"links": []}]  # fmt: skip
        start, system = habitat.workshop.start, page.view.system
        links = [_link(page, "order of work (CSV)", "order-of-work.csv")]
        if start:
            links.append(_link(page, "calendar (ICS)", "order-of-work.ics"))
        return [
            build_data.chart(plan.order, start, system),
            build_data.entering(plan.order, start, system),
            {"title": "Tasks", "about": PRACTICE,
             "tasks": build_data.tasks(draft, plan.order, system), "days": True,
             "note": "Slack: how late a task may be. Makers' sheets decide on every "
             "cure, a veterinarian on quarantine."}, {"links": links},
        ]  # fmt: skip

    made = data()
    with ui.element("div").classes("build-two"):
        enter = TableSheet(sheet=made[1])
        with ui.element("div").classes("panel build-form"):
            who = page.form_of("build")
    chart = OrderChart(chart=made[0])
    takes = Takes(sheet=made[3])
    table = TaskTable(sheet=made[2])
    table.hear("time", page.time)

    def give() -> None:
        made = data()
        chart.give(chart=made[0])
        enter.give(sheet=made[1])
        table.give(sheet=made[2])
        takes.give(sheet=made[3])
        who.give(form=form(page, "build"))

    return give


def handover(page: BuildPage) -> Callable[[], None]:
    """The pack, and the handover sheet."""
    from loamwright.report.handover_blocks import (
        hours_tables,
        instruments_table,
        limits_tables,
        places_table,
    )

    def pack() -> dict[str, Any]:
        building, busy = page.desk.building, page.desk.busy
        packed = building.packed
        ready = building.settled() and page.plan is not None
        return {
            "ready": ready, "busy": busy.get("pack", ""), "trouble": page.desk.troubles.get("pack", ""),
            "waiting": "" if ready else page.wait(), "told": packed.told if packed else "",
            "old": packed is not None and packed.text != page.desk.draft.text,
            "href": _link(page, "", "pack.zip")[1],
            "paper": "letter" if page.view.system == "us" else "a4",
        }  # fmt: skip

    def data() -> dict[str, Any]:
        plan = page.plan
        if plan is None or not plan.checks:
            none = page.wait() if plan is None or not page.desk.building.planned.whole else (
                "No place of this habitat is measured: add sites.")  # fmt: skip
            return {"heading": "Handover sheet", "told": [none], "tables": []}
        system, checks = page.view.system, plan.checks
        tables = [places_table(checks, system), instruments_table(checks, system),
                  *limits_tables(checks, page.season, system)]  # fmt: skip
        if page.hourly:
            tables += hours_tables(checks, page.season, system)
        return {"heading": "Handover sheet", "told": [
            "Measured before animals come: every place, its instrument, the value expected and when it "
            "means go, wait or no-go. On paper each has a code that the logbook reads."],
            "tables": page.shown(tables)}  # fmt: skip

    pack_part = PackSheet(pack=pack())
    pack_part.hear("make", page.make_pack)
    pack_part.hear("stop", page.stop_pack)
    with ui.element("div").classes("choose"):
        for season in ("winter", "summer"):
            pressed = "true" if page.season == season else "false"
            button = ui.element("button").props(f'type=button aria-pressed="{pressed}"')
            button._text = f"{season} day"
            button.on("click", lambda _, s=season: page.ask({"season": s}))
        pressed = "true" if page.hourly else "false"
        button = ui.element("button").props(f'type=button aria-pressed="{pressed}"')
        button._text = "every hour"
        button.on("click", lambda _: page.ask({"hourly": not page.hourly}))
        Takes(sheet={"links": [_link(page, "handover sheet (CSV)", "handover.csv")]})
    table = TableSheet(sheet=data())

    def give() -> None:
        pack_part.give(pack=pack())
        table.give(sheet=data())

    return give


BUILDERS: dict[str, Callable[[BuildPage], Callable[[], None]]] = {
    "shopping": shopping, "cuts": cuts, "feeds": feeds, "order": order, "handover": handover,
}  # fmt: skip
"""What lays each part out."""
