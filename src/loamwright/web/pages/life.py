"""Animals and plants: what animals can choose, where they climb, their room and descent; the plants;
what lives in the ground; and the findings of all of it."""

from __future__ import annotations

from collections.abc import Callable
from typing import TYPE_CHECKING, Any

from nicegui import ui

from loamwright import editing
from loamwright.errors import InputError
from loamwright.report.plain import clean
from loamwright.web import (
    life_data,
    life_kin,
    life_years,
    moves,
    scene_data,
    tree,
    wording,
)
from loamwright.web.base import Page
from loamwright.web.engines import JobFailedError, JobStoppedError
from loamwright.web.parts import (
    ChoiceChart,
    FindingsList,
    KinChart,
    LifeHead,
    PlantList,
    SceneView,
    SpaceSheet,
    TableSheet,
    YearCharts,
)
from loamwright.web.shell import View, later
from loamwright.web.tables import shown

if TYPE_CHECKING:
    from loamwright.engine.life.study import Residents
    from loamwright.habitat.enclosure import Vec3
    from loamwright.habitat.habitat import Habitat
    from loamwright.habitat.planting import Plant

PARTS = (("choice", "Choice"), ("ways", "Ways"), ("room", "Room and group"), ("kin", "Descent"),
         ("plants", "Plants"), ("ground", "In the ground"))  # fmt: skip
"""Parts of the page, and what they are called."""

SPEAKS = {"plants": "plants", "ground": "decomposers"}
"""Whose findings stand beside a part; the animals' where it is not named."""

WITH_SCENE = ("ways", "plants")

WAITED = ("light", "climate", "ground", "life")
"""Work that this page's results come of."""

SIGNS = (
    ("sign-spot", "place within reach"), ("sign-link", "gap it bridges"),
    ("sign-way", "way that keeps off the ground"), ("sign-over", "way over the ground"),
    ("sign-end", "dead end"), ("sign-far", "out of reach"),
)  # fmt: skip
"""Signs of the climbing graph, and what they mean."""


class _Life:
    """What is shown: a part, a species, a season, a picked plant."""

    def __init__(self, view: View) -> None:
        self.view, self.desk = view, view.desk
        self.part, self.kind, self.season, self.picked = "choice", "", "summer", ""
        self.scene: Any = None
        self.things: Any = None
        self.live: dict[str, Any] | None = None
        self.give: Callable[[], None] = lambda: None
        self.head = LifeHead(head=self._head())
        self.head.hear("ask", self._ask)
        with ui.element("div").classes("life-body"):
            main = ui.element("div").classes("life-main")
            with main.props('id=life-part role=tabpanel aria-labelledby="tab-choice"'):
                self.stage = ui.element("div").classes("life-stage is-off")
                self.left = ui.element("div")
            self.main = main
            with ui.element("div").classes("life-side"):
                self.findings = FindingsList(**self._findings())
        self.findings.hear("pick", self._show)
        for what in ("life", "draft"):
            view.on(what, self._fresh)
        view.on("values", self._fresh_values)
        for what in ("findings", "busy"):
            view.on(what, self._fresh_words)
        self._open("choice")

    # -- what is shown -----------------------------------------------------------------------

    @property
    def habitat(self) -> Habitat:
        """The habitat; the page is only laid out where there is one."""
        assert self.desk.habitat is not None
        return self.desk.habitat

    @property
    def of(self) -> Habitat:
        """The habitat that the life shown was looked at in."""
        return self.desk.life.habitat or self.habitat

    @property
    def one(self) -> Residents | None:
        """The species that is shown."""
        animals = self.desk.life.animals
        residents = animals.residents if animals is not None else ()
        return next((r for r in residents if r.species.key == self.kind),
                    residents[0] if residents else None)  # fmt: skip

    def _head(self) -> dict[str, Any]:
        desk = self.desk
        animals = desk.life.animals
        waiting = "life" in desk.busy
        one = self.one
        none = ""
        if not self.habitat.animals and self.part not in ("plants", "ground"):
            none = "No animals live here yet: add some on the Habitat page."
        return {
            "parts": [list(p) for p in PARTS], "part": self.part,
            "kinds": life_data.kinds(animals.residents) if animals is not None else [],
            "kind": one.species.key if one is not None else "", "none": none,
            "busy": [t for k, t in desk.busy.items() if k in WAITED],
            "trouble": next((t for k in WAITED if (t := desk.troubles.get(k))), ""),
            "old": waiting and desk.life.habitat is not None
            and desk.life.habitat is not desk.habitat,
        }  # fmt: skip

    def _findings(self) -> dict[str, Any]:
        engine = SPEAKS.get(self.part, "animals")
        desk = self.desk
        before = [f for f in desk.before or () if f.engine == engine]
        found = [f for f in desk.findings if f.engine == engine]
        return {"report": wording.report(self.habitat, found, before, self.view.system),
                "busy": {}, "troubles": {}}  # fmt: skip

    def _open(self, part: str) -> None:
        """Show another part."""
        self.part = part
        self.left.clear()
        with self.left:
            self.give = {
                "choice": self._choice,
                "ways": self._ways,
                "room": self._room,
                "kin": self._kin,
                "plants": self._plants,
                "ground": self._ground,
            }[part]()
        self.main.props(f'aria-labelledby="tab-{part}"')
        self._stage()
        self._fresh_words()

    def _stage(self) -> None:
        """The scene, made when it is first looked at."""
        if self.part not in WITH_SCENE:
            self.stage.classes(add="is-off")
            return
        self.stage.classes(remove="is-off")
        if self.scene is None:
            self.things = self._drawn()
            with self.stage:
                self.scene = SceneView(
                    data=self.things,
                    words=scene_data.words(self.habitat, self.desk.draft.path.stem,
                                           self.view.system),
                )  # fmt: skip
            self.scene.hear("pick", self.pick)
            self.scene.hear("drag", self._drag)
            self.scene.hear("drop", self._drop)
            self.scene.hear("nudge", self._drop)
        self._overlay()

    def _drawn(self) -> dict[str, Any]:
        """The scene's things; only plants are moved on this page."""
        data = scene_data.things(self.habitat, self.desk.draft.value)
        for thing in data["things"]:
            if thing["kind"] != "plant":
                thing["move"] = "no"
        sides = {s: [x.name for x in self.habitat.enclosure.linings if x.side == s]
                 for s in tree.SIDES}  # fmt: skip
        return {**data, "linings": sides}

    def _overlay(self) -> None:
        if self.scene is None:
            return
        one = self.one if self.part == "ways" else None
        graph = None
        if one is not None:
            ways = self.desk.life.ways.get(one.species.key)
            graph = life_data.climb(one, ways, self.of, self.view.system)["overlay"]
        self.scene.run_method("setClimb", graph)

    # -- the parts: each is laid out, and gives back what freshens it ------------------------

    def _choice(self) -> Callable[[], None]:
        def data() -> dict[str, Any]:
            if self.one is None:
                return {"species": "the animals", "why": self._wait(), "sites": [], "seasons": []}
            return life_data.choice(self.one, self.season, self.of, self.view.system)

        made = data()
        chart = ChoiceChart(chart=made)
        chart.hear("ask", self._ask)
        tables = TableSheet(sheet={"tables": made.get("tables", [])})

        def give() -> None:
            now = data()
            chart.give(chart=now)
            tables.give(sheet={"tables": now.get("tables", [])})

        return give

    def _wait(self) -> str:
        if not self.habitat.animals:
            return "No animals live here yet: add some on the Habitat page."
        return "It is being worked out." if self.desk.busy else "Nothing could be worked out."

    def _ways(self) -> Callable[[], None]:
        def data() -> dict[str, Any]:
            one = self.one
            if one is None:
                return {"told": [self._wait()], "heading": "Where they climb", "tables": []}
            found = life_data.climb(
                one, self.desk.life.ways.get(one.species.key), self.of, self.view.system
            )
            return {
                "heading": f"Where {clean(one.species.label, 40)} can climb",
                "told": [found["why"] or found["told"]], "tables": found["tables"],
                "legend": [list(s) for s in SIGNS] if found["overlay"] else None,
            }  # fmt: skip

        part = TableSheet(sheet=data())

        def give() -> None:
            part.give(sheet=data())
            self._overlay()

        return give

    def _room(self) -> Callable[[], None]:
        from loamwright.report.animals_blocks import animals_tables, group_words

        def data() -> tuple[list[dict[str, Any]], str, dict[str, Any]]:
            one, animals = self.one, self.desk.life.animals
            if one is None or animals is None:
                return [], self._wait(), {"tables": []}
            rows = life_data.space(one, animals.box, self.view.system)
            none = "" if rows else "No published standard was found that names figures for it."
            mine = (f"Places of {clean(one.species.label)}", "Branches and tubes, highest first")
            tables = [shown(t, self.of) for t in animals_tables(self.of, animals, self.view.system)]
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

    def _kin(self) -> Callable[[], None]:
        from loamwright.report.moving_blocks import moving_tables

        def data() -> tuple[dict[str, Any], dict[str, Any]]:
            one, animals = self.one, self.desk.life.animals
            if one is None or animals is None:
                none = {"why": self._wait(), "animals": [], "couples": [], "told": [], "tables": []}
                return none, {"tables": []}
            kin = life_kin.descent(one, self.of, self.view.system)
            moving = [shown(t, self.of) for t in moving_tables(animals.moving, self.view.system)]
            return kin, {"tables": [*kin["tables"], *moving]}

        kin, sheet = data()
        chart, tables = KinChart(kin=kin), TableSheet(sheet=sheet)

        def give() -> None:
            kin, sheet = data()
            chart.give(kin=kin)
            tables.give(sheet=sheet)

        return give

    def _plants(self) -> Callable[[], None]:
        def data() -> dict[str, Any]:
            rows = life_years.plants(self.habitat, self.desk.values, self.desk.life.planting,
                                     self.view.system, self.desk.light_findings)  # fmt: skip
            return {"plants": rows, "system": self.view.system,
                    "species": [list(c) for c in editing.choices("plants", self._own())]}  # fmt: skip

        def curves() -> list[dict[str, Any]]:
            planting, plant = self.desk.life.planting, self._plant(self.picked)
            if planting is None:
                return []
            known = [p.name for p in self.of.plants if p.name not in planting.unknown]
            name = plant.name if plant is not None else next(
                iter(known or [p.name for p in self.of.plants]), "")  # fmt: skip
            return life_years.plant_charts(self.of, planting, name, self.view.system)

        def words() -> dict[str, Any]:
            planting = self.desk.life.planting
            if planting is None:
                return {"tables": []}
            return {"tables": life_years.plant_words(self.of, planting, self.view.system)}

        part = PlantList(sheet=data(), picked=self.picked, live=self.live)
        part.hear("pick", self.pick)
        part.hear("add", self._add)
        part.hear("remove", self._remove)
        with ui.element("section").classes("panel").props('aria-label="A year of the plant"'):
            charts = YearCharts(charts=curves())
        tables = TableSheet(sheet=words())

        def give() -> None:
            part.give(sheet=data(), picked=self.picked, live=self.live)
            charts.give(charts=curves())
            tables.give(sheet=words())

        return give

    def _own(self) -> list[Any]:
        """The habitat's own catalogue files."""
        named = self.desk.draft.value(("catalogue",)) or []
        folder = self.desk.draft.path.parent
        return [folder / str(n) for n in (named if isinstance(named, list) else [named])]

    def _ground(self) -> Callable[[], None]:
        def data() -> dict[str, Any]:
            life = self.desk.life
            if life.habitat is None or (life.small is None and "life" in self.desk.busy):
                return {"why": "It is being worked out." if self.desk.busy else "", "cards": [],
                        "charts": [], "tables": []}  # fmt: skip
            return life_years.small(self.of, life.small, self.view.system)

        def sheet(made: dict[str, Any], *keys: str) -> dict[str, Any]:
            return {k: made[k] for k in keys}

        made = data()
        top = TableSheet(sheet={"heading": "What lives in the ground", "tables": [],
                                "told": [made["why"]] if made["why"] else [],
                                **sheet(made, "cards")})  # fmt: skip
        with ui.element("section").classes("panel").props('aria-label="A year in the ground"'):
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

    # -- being told --------------------------------------------------------------------------

    def _fresh(self) -> None:
        if self.desk.habitat is None:
            ui.run_javascript("location.reload()")
            return
        if self.picked and self._plant(self.picked) is None:
            self.picked = ""
        if self.scene is not None:
            now = self._drawn()
            if now != self.things:
                self.things = now
                self.scene.give(data=now)
        self.give()
        self._fresh_words()

    def _fresh_values(self) -> None:
        if self.live is not None and self.live["dropped"]:
            # It stands there now: the light of all the habitat has been followed.
            self.live = None
        if self.part == "plants":
            self.give()

    def _fresh_words(self) -> None:
        if self.desk.habitat is not None:
            self.head.give(head=self._head())
            self.findings.give(**self._findings())

    # -- what a person does ------------------------------------------------------------------

    def _ask(self, said: Any) -> None:
        said = said if isinstance(said, dict) else {}
        if said.get("part") in {p[0] for p in PARTS}:
            self._open(said["part"])
        elif "season" in said:
            self.season = str(said["season"])
            self.give()
        elif "kind" in said:
            self.kind = str(said["kind"])
            self.give()
            self._fresh_words()

    def _show(self, ident: Any) -> None:
        """A finding's place in the scene."""
        if self.part not in WITH_SCENE:
            self._open("ways")
        self.pick(ident)

    def pick(self, ident: Any) -> None:
        """Pick something, in the scene or the list; of a crown its plant."""
        picked = str(ident) if isinstance(ident, str) else ""
        head, _, tail = picked.partition("/")
        if head == "sites" and tail.isdigit() and int(tail) < len(self.habitat.sites):
            site = self.habitat.sites[int(tail)]
            number = next(
                (i for i, p in enumerate(self.habitat.plants) if p.name == site.plant), None
            )
            picked = picked if number is None else f"plants/{number}"
        self.picked = picked
        self.live = None
        if self.scene is not None:
            self.scene.run_method("setPicked", picked)
        self.give()
        plant = self._plant(picked)
        if plant is not None and self.part == "plants":
            # What the first place of a drag would wait for is made ready.
            later(self._light_at(picked, plant.foot, quiet=True))

    def _plant(self, ident: str) -> Plant | None:
        head, _, tail = ident.partition("/")
        plants = self.habitat.plants
        return plants[int(tail)] if head == "plants" and tail.isdigit() and int(tail) < len(
            plants) else None  # fmt: skip

    def _foot(self, said: dict[str, Any]) -> tuple[str, Vec3] | None:
        """A plant that is dragged, and where its foot would be."""
        ident = str(said.get("id"))
        plant = self._plant(ident)
        if plant is None:
            return None
        x, y, z = (float(v) for v in said["at"])
        size = self.habitat.enclosure.inside
        x, y = min(max(x, 0.0), size[0]), min(max(y, 0.0), size[1])
        thing = next(t for t in self.things["things"] if t["id"] == ident)
        if thing["move"] == "level":
            ground = self.habitat.ground
            z = plant.foot[2] + ground.surface_at(x, y) - ground.surface_at(*plant.foot[:2])
        return ident, (x, y, min(max(z, 0.0), size[2]))

    def _drag(self, said: Any) -> None:
        try:
            found = self._foot(said)
        except (KeyError, TypeError, ValueError):
            return
        if found is not None:
            later(self._light_at(*found))

    async def _light_at(self, ident: str, foot: Vec3, *, quiet: bool = False) -> None:
        """Say the light that a plant would have elsewhere; of several asked for, the latest."""
        from loamwright.engine.life.plants_year import least_light, lit_time

        plant = self._plant(ident)
        if plant is None:
            return
        try:
            light = await self.desk.engines.run(
                self.desk.id, "crown_spot", slot=f"spot {id(self)}", habitat=self.habitat,
                plant=plant.name, foot=foot,
            )  # fmt: skip
        except (JobStoppedError, JobFailedError):
            return
        if quiet or self._plant(ident) is not plant:
            return
        need = least_light(plant.type, lit_time(self.habitat, "middle"))
        told = life_years.light_words(light, need)
        self.live = {"id": ident, "dropped": False, **told}
        with self.view.client:
            wanted = f", needs {told['need']}" if need is not None else ""
            self.scene.run_method(
                "setSaying", f"light {told['light']} mol/m²/d{wanted} {told['sign']}"
            )
            self.give()

    async def _drop(self, said: Any) -> None:
        habitat, draft = self.desk.habitat, self.desk.draft
        try:
            found = moves.dragged(draft, habitat, self.things["things"], said) if habitat else None
        except (KeyError, TypeError, ValueError, InputError):
            found = None
        if self.live is not None:
            self.live["dropped"] = True
        if found is None or not found[1] or not await self.view.edit(
            lambda: draft.change(found[1], f"move {self._name(said)}")
        ):  # fmt: skip
            self.live = None
            self.scene.run_method("rebuild")
            self.give()

    def _name(self, said: dict[str, Any]) -> str:
        plant = self._plant(str(said.get("id")))
        return clean(plant.name, 60) if plant is not None else "a plant"

    async def _add(self, species: Any) -> None:
        habitat, draft = self.desk.habitat, self.desk.draft
        known = {key for key, _ in editing.choices("plants", self._own())}
        if habitat is None or species not in known:
            return
        if await self.view.edit(lambda: tree.add(draft, habitat, "plants", species=species)):
            self.pick(f"plants/{len(draft.value(('plants',))) - 1}")

    async def _remove(self, ident: Any) -> None:
        if self._plant(str(ident)) is not None:
            loc = moves.loc_of(str(ident))
            await self.view.edit(lambda: self.desk.draft.remove(loc))


def build(view: View) -> None:
    """Lay the page out."""
    _Life(view)


PAGE = Page("life", "Animals and plants", 4, build)
