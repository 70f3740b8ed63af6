"""The parts of *Animals and plants*: each is laid out here, and gives back what freshens it."""

from __future__ import annotations

from collections.abc import Callable
from typing import TYPE_CHECKING, Any, Protocol

from nicegui import ui

from loamwright.report.plain import clean
from loamwright.web import life_data, life_kin, life_years
from loamwright.web.parts import (
    ChoiceChart,
    KinChart,
    PlantList,
    SpaceSheet,
    TableSheet,
    YearCharts,
)
from loamwright.web.tables import shown

if TYPE_CHECKING:
    from loamwright.engine.life.study import Residents
    from loamwright.habitat.habitat import Habitat
    from loamwright.habitat.planting import Plant
    from loamwright.web.desk import Desk
    from loamwright.web.shell import View

SIGNS = (
    ("sign-spot", "place within reach"), ("sign-link", "gap it bridges"),
    ("sign-way", "way that keeps off the ground"), ("sign-over", "way over the ground"),
    ("sign-end", "dead end"), ("sign-far", "out of reach"),
)  # fmt: skip
"""Signs of the climbing graph, and what they mean."""


class LifePage(Protocol):
    """The page that a part is of: what is shown on it, and what a person does there."""

    view: View
    desk: Desk
    season: str
    picked: str
    live: dict[str, Any] | None
    give_live: Callable[[], None]

    @property
    def habitat(self) -> Habitat: ...  # noqa: D102
    @property
    def of(self) -> Habitat: ...  # noqa: D102
    @property
    def one(self) -> Residents | None: ...  # noqa: D102
    def wait(self) -> str: ...  # noqa: D102
    def plant(self, ident: str) -> Plant | None: ...  # noqa: D102
    def species(self) -> list[tuple[str, str]]: ...  # noqa: D102
    def overlay(self) -> None: ...  # noqa: D102
    def ask(self, said: Any) -> None: ...  # noqa: D102
    def pick(self, ident: Any) -> None: ...  # noqa: D102
    async def add(self, species: Any) -> None: ...  # noqa: D102
    async def remove(self, ident: Any) -> None: ...  # noqa: D102


def choice(page: LifePage) -> Callable[[], None]:
    """The choice chart, and shares of the day."""

    def data() -> dict[str, Any]:
        if page.one is None:
            return {"species": "the animals", "why": page.wait(), "sites": [], "seasons": []}
        return life_data.choice(page.one, page.season, page.of, page.view.system)

    made = data()
    chart = ChoiceChart(chart=made)
    chart.hear("ask", page.ask)
    tables = TableSheet(sheet={"tables": made.get("tables", [])})

    def give() -> None:
        now = data()
        chart.give(chart=now)
        tables.give(sheet={"tables": now.get("tables", [])})

    return give


def ways(page: LifePage) -> Callable[[], None]:
    """What the climbing graph says; the graph itself is in the scene."""

    def data() -> dict[str, Any]:
        one = page.one
        if one is None:
            return {"told": [page.wait()], "heading": "Where they climb", "tables": []}
        found = life_data.climb(
            one, page.desk.life.ways.get(one.species.key), page.of, page.view.system
        )
        return {
            "heading": f"Where {clean(one.species.label, 40)} can climb",
            "told": [found["why"] or found["told"]], "tables": found["tables"],
            "legend": [list(s) for s in SIGNS] if found["overlay"] else None,
        }  # fmt: skip

    part = TableSheet(sheet=data())

    def give() -> None:
        part.give(sheet=data())
        page.overlay()

    return give


def room(page: LifePage) -> Callable[[], None]:
    """Standards, the group and its places."""
    from loamwright.report.animals_blocks import animals_tables, group_words

    def data() -> tuple[list[dict[str, Any]], str, dict[str, Any]]:
        one, animals = page.one, page.desk.life.animals
        if one is None or animals is None:
            return [], page.wait(), {"tables": []}
        rows = life_data.space(one, animals.box, page.view.system)
        none = "" if rows else "No published standard was found that names figures for it."
        mine = (f"Places of {clean(one.species.label)}", "Branches and tubes, highest first")
        tables = [shown(t, page.of) for t in animals_tables(page.of, animals, page.view.system)]
        told = [f"{clean(one.species.label)}: {group_words(one)}."]
        return rows, none, {
            "heading": "The group", "told": told,
            "tables": [t for t in tables if t["title"] in (*mine, "Room")],
        }  # fmt: skip

    rows, none, sheet = data()
    tables = TableSheet(sheet=sheet)
    space = SpaceSheet(standards=rows, none=none)
    space.move(target_index=0)

    def give() -> None:
        rows, none, sheet = data()
        space.give(standards=rows, none=none)
        tables.give(sheet=sheet)

    return give


def kin(page: LifePage) -> Callable[[], None]:
    """The pedigree, the group by its genes, and moving in."""
    from loamwright.report.moving_blocks import moving_tables
    from loamwright.report.order_blocks import start_date

    def data() -> tuple[dict[str, Any], dict[str, Any]]:
        one, animals = page.one, page.desk.life.animals
        if one is None or animals is None:
            none = {"why": page.wait(), "animals": [], "couples": [], "told": [], "tables": []}
            return none, {"tables": []}
        kin = life_kin.descent(one, page.of, page.view.system)
        planned = page.desk.building.planned
        order = planned.plan.order if planned.plan is not None else None
        start = planned.habitat.workshop.start if planned.habitat is not None else ""
        moving = [
            shown(t, page.of)
            for t in moving_tables(animals.moving, page.view.system, order, start_date(start))
        ]
        return kin, {"tables": [*kin["tables"], *moving]}

    kin, sheet = data()
    chart, tables = KinChart(kin=kin), TableSheet(sheet=sheet)

    def give() -> None:
        kin, sheet = data()
        chart.give(kin=kin)
        tables.give(sheet=sheet)

    return give


def plants(page: LifePage) -> Callable[[], None]:
    """The plants with their light, and the year of one of them."""

    def data() -> dict[str, Any]:
        rows = life_years.plants(page.habitat, page.desk.values, page.desk.life.planting,
                                 page.view.system, page.desk.light_findings)  # fmt: skip
        return {"plants": rows, "system": page.view.system,
                "species": [list(c) for c in page.species()]}  # fmt: skip

    def curves() -> list[dict[str, Any]]:
        planting, plant = page.desk.life.planting, page.plant(page.picked)
        if planting is None:
            return []
        known = [p.name for p in page.of.plants if p.name not in planting.unknown]
        name = plant.name if plant is not None else next(
            iter(known or [p.name for p in page.of.plants]), "")  # fmt: skip
        return life_years.plant_charts(page.of, planting, name, page.view.system)

    def words() -> dict[str, Any]:
        planting = page.desk.life.planting
        if planting is None:
            return {"tables": []}
        return {"tables": life_years.plant_words(page.of, planting, page.view.system)}

    part = PlantList(sheet=data(), picked=page.picked, live=page.live)
    page.give_live = lambda: part.give(live=page.live)
    part.hear("pick", page.pick)
    part.hear("add", page.add)
    part.hear("remove", page.remove)
    with ui.element("section").classes("panel curves").props('aria-label="A year of the plant"'):
        charts = YearCharts(charts=curves())
    tables = TableSheet(sheet=words())

    def give() -> None:
        part.give(sheet=data(), picked=page.picked, live=page.live)
        charts.give(charts=curves())
        tables.give(sheet=words())

    return give


def ground(page: LifePage) -> Callable[[], None]:
    """The small life of the ground through its year."""

    def data() -> dict[str, Any]:
        life = page.desk.life
        if life.habitat is None or (life.small is None and "life" in page.desk.busy):
            return {"why": "It is being worked out." if page.desk.busy else "", "cards": [],
                    "charts": [], "tables": []}  # fmt: skip
        return life_years.small(page.of, life.small, page.view.system)

    def sheet(made: dict[str, Any], *keys: str) -> dict[str, Any]:
        return {k: made[k] for k in keys}

    made = data()
    top = TableSheet(sheet={"heading": "What lives in the ground", "tables": [],
                            "told": [made["why"]] if made["why"] else [],
                            **sheet(made, "cards")})  # fmt: skip
    with ui.element("section").classes("panel curves").props('aria-label="A year in the ground"'):
        charts = YearCharts(charts=made["charts"])
    below = TableSheet(sheet=sheet(made, "tables"))

    def give() -> None:
        now = data()
        top.give(
            sheet={
                "heading": "What lives in the ground",
                "tables": [],
                "told": [now["why"]] if now["why"] else [],
                **sheet(now, "cards"),
            }
        )
        charts.give(charts=now["charts"])
        below.give(sheet=sheet(now, "tables"))

    return give


BUILDERS: dict[str, Callable[[LifePage], Callable[[], None]]] = {
    "choice": choice, "ways": ways, "room": room, "kin": kin, "plants": plants, "ground": ground,
}  # fmt: skip
"""What lays each part out."""
