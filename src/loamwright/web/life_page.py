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
    life_parts,
    life_years,
    moves,
    scene_data,
    tree,
    wording,
)
from loamwright.web.engines import JobFailedError, JobStoppedError
from loamwright.web.parts import FindingsList, LifeHead, SceneView
from loamwright.web.shell import View, later

if TYPE_CHECKING:
    from pathlib import Path

    from loamwright.engine.life.study import Residents
    from loamwright.habitat.enclosure import Vec3
    from loamwright.habitat.habitat import Habitat
    from loamwright.habitat.planting import Plant

PARTS = (("choice", "Choice"), ("ways", "Ways"), ("room", "Room and group"),
         ("kin", "Descent and moving in"), ("plants", "Plants"),
         ("ground", "In the ground"))  # fmt: skip
"""Parts of the page, and what they are called."""

SPEAKS = {"plants": "plants", "ground": "decomposers"}
"""Whose findings stand beside a part; the animals' where it is not named."""

WITH_SCENE = ("ways", "plants")

WAITED = ("light", "climate", "ground", "life")
"""Work that this page's results come of."""


class LifePage:
    """What is shown: a part, a species, a season, a picked plant."""

    def __init__(self, view: View) -> None:
        self.view, self.desk = view, view.desk
        self.part, self.kind, self.season, self.picked = "choice", "", "summer", ""
        self.scene: Any = None
        self.things: Any = None
        self.catalogue: tuple[tuple[Path, ...], list[tuple[str, str]]] | None = None
        self.live: dict[str, Any] | None = None
        self.give: Callable[[], None] = lambda: None
        self.give_live: Callable[[], None] = lambda: None
        self.head = LifeHead(head=self._head())
        self.head.hear("ask", self.ask)
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
        view.on("build", self._fresh_order)
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
        return {
            "name": "life", "title": self.view.page.title,
            "parts": [list(p) for p in PARTS], "part": self.part,
            "kinds": life_data.kinds(animals.residents) if animals is not None else [],
            "kind": one.species.key if one is not None else "",
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
        report = wording.report(self.habitat, found, before, self.view.system)
        if not found and desk.life.habitat is not None and "life" not in desk.busy:
            report["none"] = "Nothing of it is asked here."
        return {"report": report, "busy": {}, "troubles": {}, "stale": sorted(desk.stale)}

    def _open(self, part: str) -> None:
        """Show another part."""
        self.part = part
        self.left.clear()
        with self.left:
            self.give_live = lambda: None
            self.give = life_parts.BUILDERS[part](self)
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
        self.overlay()

    def _drawn(self) -> dict[str, Any]:
        """The scene's things; only plants are moved on this page."""
        data = scene_data.things(self.habitat, self.desk.draft.value)
        for thing in data["things"]:
            if thing["kind"] != "plant":
                thing["move"] = "no"
        sides = {s: [x.name for x in self.habitat.enclosure.linings if x.side == s]
                 for s in tree.SIDES}  # fmt: skip
        return {**data, "linings": sides}

    def overlay(self) -> None:
        """Lay the climbing graph over the scene, or take it off."""
        if self.scene is None:
            return
        one = self.one if self.part == "ways" else None
        graph = None
        if one is not None:
            ways = self.desk.life.ways.get(one.species.key)
            graph = life_data.climb(one, ways, self.of, self.view.system)["overlay"]
        self.scene.run_method("setClimb", graph)

    def wait(self) -> str:
        """Why there is nothing to show."""
        if not self.habitat.animals:
            return "No animals live here yet: add some on the Habitat page."
        return "It is being worked out." if self.desk.busy else "Nothing could be worked out."

    def species(self) -> list[tuple[str, str]]:
        """Plants that can be added, the habitat's own catalogue among them: key and name."""
        named = self.desk.draft.value(("catalogue",)) or []
        folder = self.desk.draft.path.parent
        files = tuple(folder / str(n) for n in (named if isinstance(named, list) else [named]))
        if self.catalogue is None or self.catalogue[0] != files:
            self.catalogue = files, editing.choices("plants", files)
        return self.catalogue[1]

    # -- being told --------------------------------------------------------------------------

    def _fresh(self) -> None:
        if self.desk.habitat is None:
            ui.run_javascript("location.reload()")
            return
        if self.picked and self.plant(self.picked) is None:
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

    def _fresh_order(self) -> None:
        if self.part == "kin":
            self.give()

    def _fresh_words(self) -> None:
        if self.desk.habitat is not None:
            self.head.give(head=self._head())
            self.findings.give(**self._findings())

    # -- what a person does ------------------------------------------------------------------

    def ask(self, said: Any) -> None:
        """Another part, species or season."""
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
        plant = self.plant(picked)
        if plant is not None and self.part == "plants":
            # What the first place of a drag would wait for is made ready.
            later(self._light_at(picked, plant.foot, quiet=True))

    def plant(self, ident: str) -> Plant | None:
        """The plant of a thing of the scene or the list."""
        head, _, tail = ident.partition("/")
        plants = self.habitat.plants
        return plants[int(tail)] if head == "plants" and tail.isdigit() and int(tail) < len(
            plants) else None  # fmt: skip

    def _foot(self, said: dict[str, Any]) -> tuple[str, Vec3] | None:
        """A plant that is dragged, and where its foot would be."""
        ident = str(said.get("id"))
        plant = self.plant(ident)
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

        plant = self.plant(ident)
        if plant is None:
            return
        try:
            light = await self.desk.engines.run(
                self.desk.id, "crown_spot", slot=f"spot {id(self)}", habitat=self.habitat,
                plant=plant.name, foot=foot,
            )  # fmt: skip
        except (JobStoppedError, JobFailedError):
            return
        if quiet or self.plant(ident) is not plant:
            return
        need = least_light(plant.type, lit_time(self.habitat, "middle"))
        told = life_years.light_words(light, need)
        self.live = {"id": ident, "dropped": False, **told}
        with self.view.client:
            wanted = f", needs {told['need']}" if need is not None else ""
            self.scene.run_method(
                "setSaying", f"light {told['light']} mol/m²/d{wanted} {told['sign']}"
            )
            self.give_live()

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
        plant = self.plant(str(said.get("id")))
        return clean(plant.name, 60) if plant is not None else "a plant"

    async def add(self, species: Any) -> None:
        """Add a plant of a species, and pick it."""
        habitat, draft = self.desk.habitat, self.desk.draft
        known = {key for key, _ in self.species()}
        if habitat is None or species not in known:
            return
        made: list[tuple[str | int, ...]] = []
        if await self.view.edit(
            lambda: made.append(tree.add(draft, habitat, "plants", species=species))
        ):
            self.pick(tree.ident(made[0]))

    async def remove(self, ident: Any) -> None:
        """Take a plant out."""
        if self.plant(str(ident)) is not None:
            loc = moves.loc_of(str(ident))
            await self.view.edit(lambda: self.desk.draft.remove(loc))
