"""The Habitat page: the scene, what is in it, its forms, its light and its findings."""

from __future__ import annotations

import base64
from typing import Any

from nicegui import ui

from loamwright.errors import InputError
from loamwright.habitat.habitat import Habitat
from loamwright.report.plain import clean
from loamwright.web import field_data, forms, moves, scene_data, tree, wording
from loamwright.web.base import Page
from loamwright.web.desk import SEASONS, set_value
from loamwright.web.engines import JobFailedError, JobStoppedError
from loamwright.web.parts import FieldBar, FindingsList, FormSheet, SceneView, SitesTable, TreeList
from loamwright.web.shell import View, later

NOON = 12.0


class _Habitat:
    """The page's own state: what is picked, what field is shown, at what hour."""

    def __init__(self, view: View) -> None:
        self.view, self.desk = view, view.desk
        self.picked = ""
        self.geometry: Any = None
        self.field: dict[str, Any] | None = None
        self.wanted: dict[str, Any] = {"quantity": "none", "plane": "y", "position": 0.5, "hour": None,
                       "season": self.desk.season}  # fmt: skip
        self.hour_values: Any = None
        with ui.element("div").classes("bench"):
            with ui.element("div").classes("side side-list"):
                self.tree = TreeList(groups=[], picked="")
                self.form = FormSheet(form=None, title="Nothing picked")
            with ui.element("div").classes("stage"):
                self.fields = FieldBar(bar=self._field_bar())
                self.scene = SceneView(
                    data=self._things(),
                    words=scene_data.words(self.desk.habitat, self.desk.draft.path.stem,
                                           self.view.system),
                )  # fmt: skip
                self.sites = SitesTable(table=self._table(), picked="")
            with ui.element("div").classes("side side-findings"):
                self.findings = FindingsList(**self._findings(), adds=True)
        for part in (self.tree, self.scene, self.findings, self.sites):
            part.hear("pick", self.pick)
        self.tree.hear("add", self._add)
        self.form.hear("set", self._set)
        self.form.hear("remove", self._remove)
        self.scene.hear("drag", self._drag)
        self.scene.hear("drop", self._drop)
        self.scene.hear("nudge", self._nudge)
        self.findings.hear("cure", self._cure)
        self.findings.hear("add", self._add)
        self.findings.hear("stop", lambda slot: self.desk.stop(str(slot)))
        self.fields.hear("ask", self._ask)
        view.on("draft", self._fresh)
        view.on("values", self._fresh_values)
        view.on("findings", self._fresh_findings)
        view.on("busy", self._fresh_busy)
        view.on("days", self._fresh_days)
        self._fresh_tree()
        self._labels()
        if view.picked in {i["id"] for g in tree.groups(self.desk.draft) for i in g["items"]}:
            view.client.on_connect(lambda: self.pick(view.picked))

    # -- what is shown -----------------------------------------------------------------------

    def _known(self) -> Habitat:
        """The habitat; the page is only laid out where there is one."""
        assert self.desk.habitat is not None
        return self.desk.habitat

    def _things(self) -> dict[str, Any]:
        habitat = self._known()
        data = scene_data.things(habitat, self.desk.draft.value)
        data["linings"] = {
            s: [x.name for x in habitat.enclosure.linings if x.side == s] for s in tree.SIDES
        }
        self.geometry = data
        return data

    def _table(self) -> dict[str, Any]:
        habitat = self._known()
        hour = self.wanted["hour"]
        when = "all lamps on" if hour is None else f"at {_clock(hour)}, {self.desk.season}"
        values = self.desk.values if hour is None else self.hour_values
        before = self.desk.values_before if hour is None else None
        return wording.sites_table(habitat, values, before, self.view.system, when)

    def _findings(self) -> dict[str, Any]:
        desk = self.desk
        report = wording.report(self._known(), desk.findings, desk.before, self.view.system)
        return {"report": report, **self._under_way()}

    def _field_bar(self) -> dict[str, Any]:
        return field_data.bar(self.desk, self.wanted, self.view.system)

    def _labels(self) -> None:
        habitat = self.desk.habitat
        if habitat is None:
            return
        quantity = self.wanted["quantity"]
        if quantity in field_data.CLIMATE:
            told = field_data.at_sites(self.desk, quantity, self.wanted["hour"], self.view.system)
        else:
            if quantity not in ("ppfd", "lux", "radiant"):
                quantity = "uvi"
            values = self.desk.values if self.wanted["hour"] is None else self.hour_values
            told = wording.labels(habitat, values, quantity, self.view.system)
        self.scene.run_method("setLabels", told)

    # -- being told --------------------------------------------------------------------------

    def _fresh(self) -> None:
        if self.desk.habitat is None:
            ui.run_javascript("location.reload()")
            return
        before = self.geometry
        if self._things() != before:
            self.scene.give(data=self.geometry)
        self._fresh_tree()
        self._fresh_form()
        self.fields.give(bar=self._field_bar())
        if self.wanted["hour"] is not None:
            # The light shown before the text was changed was that of the habitat before it.
            later(self._hour_values())

    def _fresh_tree(self) -> None:
        self.tree.give(groups=tree.groups(self.desk.draft), picked=self.picked)

    def _fresh_form(self) -> None:
        loc = moves.loc_of(self.picked) if self.picked else None
        if loc is None:
            self.form.give(form=None, title="Nothing picked")
            return
        if loc and isinstance(loc[-1], int) and self.desk.draft.value(loc) is None:
            self.picked = ""
            self.scene.run_method("setPicked", "")
            self.form.give(form=None, title="Nothing picked")
            return
        made = forms.form(self.desk.draft, loc, self.view.system)
        self.form.give(form=made, title=self._title(loc))

    def _title(self, loc: Any) -> str:
        name = self.desk.draft.value((*loc, "name"))
        if isinstance(name, str) and loc:
            return clean(name, 60)
        words = [str(p) for p in loc if not isinstance(p, int)]
        return clean(" ".join(words[-2:]) or "the habitat", 60)

    def _fresh_values(self) -> None:
        self.sites.give(table=self._table(), picked=self.picked)
        self._labels()
        if self.wanted["hour"] is not None:
            later(self._hour_values())

    def _fresh_findings(self) -> None:
        if self.desk.habitat is None:
            return
        self.findings.give(**self._findings())
        if (not self.desk.busy and self.field is None and self.wanted["quantity"] != "none") or (
            "light" not in self.desk.busy and self.field and self.field["of"] is not self._of()
        ):
            later(self._show_field())

    def _fresh_busy(self) -> None:
        self.findings.give(**self._under_way())

    def _under_way(self) -> dict[str, Any]:
        desk = self.desk
        return {"busy": dict(desk.busy), "troubles": dict(desk.troubles),
                "stale": sorted(desk.stale)}  # fmt: skip

    def _fresh_days(self) -> None:
        self.fields.give(bar=self._field_bar())
        if self.wanted["quantity"] in field_data.CLIMATE:
            self._labels()
            later(self._show_field())

    def _of(self) -> Any:
        return self.desk.habitat

    # -- what a person does ------------------------------------------------------------------

    def pick(self, ident: Any) -> None:
        """Pick something, in the scene, the list or the findings."""
        self.picked = str(ident) if isinstance(ident, str) else ""
        site = self.picked.rpartition("/")
        habitat = self.desk.habitat
        if site[0] == "sites" and habitat and site[2].isdigit():
            found = habitat.sites[int(site[2])] if int(site[2]) < len(habitat.sites) else None
            if found is not None and found.role == "crown":
                number = next(i for i, p in enumerate(habitat.plants) if p.name == found.plant)
                self.picked = f"plants/{number}"
        self.scene.run_method("setPicked", self.picked)
        self.tree.give(picked=self.picked)
        self.sites.give(picked=self.picked)
        self._fresh_form()

    async def _set(self, said: Any) -> None:
        system = self.view.system
        try:
            loc = tuple(said["loc"])
            field = self._find_field(loc)
            typed, before = str(said["value"])[:2000], str(said["before"])
            node = forms.node_at(self.desk.draft, loc)
            value = forms.typed_value(field, typed, before, system, node)
        except (KeyError, TypeError, StopIteration):
            return
        except InputError as error:
            self.view.say(error.problems[0].message)
            return
        guess = None
        habitat = self.desk.habitat
        if habitat is not None and value is not None and loc[:1] == ("lamps",):
            guess = moves.lamps_with(habitat, loc[:2], [(loc, value)])
        try:
            await self.desk.edit(set_value(self.desk, loc, value), guess=guess)
        except InputError:
            self._fresh_form()

    def _find_field(self, loc: tuple[Any, ...]) -> dict[str, Any]:
        """The field a form has for a place: nothing else can be set from the page."""
        made = self.form._given["form"]
        for field in made["fields"]:
            for part in field.get("parts", [field]):
                if tuple(part["loc"]) == loc:
                    return {**field, **part} if "parts" in field else field
        raise StopIteration

    async def _remove(self, _: Any) -> None:
        if self.picked:
            loc = moves.loc_of(self.picked)
            await self.view.edit(lambda: self.desk.draft.remove(loc))

    async def _add(self, section: Any) -> None:
        habitat, draft = self.desk.habitat, self.desk.draft
        if habitat is None or section not in tree.ADDABLE:
            return
        made: list[tuple[str | int, ...]] = []
        if await self.view.edit(lambda: made.append(tree.add(draft, habitat, str(section)))):
            self.pick(tree.ident(made[0]))

    def _moved(self, said: Any) -> tuple[Any, Any] | None:
        """The place in the file and the changes of a drag."""
        habitat = self.desk.habitat
        if habitat is None:
            return None
        return moves.dragged(self.desk.draft, habitat, self.geometry["things"], said)

    async def _drag(self, said: Any) -> None:
        try:
            found = self._moved(said)
        except (KeyError, TypeError, ValueError, InputError):
            return
        if found and found[0][0] == "lamps":
            guess = moves.lamps_with(self._known(), found[0], found[1])
            if guess is not None:
                later(self.desk.preview(guess.lamps))

    async def _drop(self, said: Any) -> None:
        try:
            found = self._moved(said)
        except (KeyError, TypeError, ValueError, InputError):
            found = None
        if not found or not found[1]:
            self.scene.run_method("rebuild")
            return
        loc, changes = found
        guess = moves.lamps_with(self._known(), loc, changes)
        label = f"move {self._title(loc)}"
        if not await self.view.edit(lambda: self.desk.draft.change(changes, label), guess):
            self.scene.run_method("rebuild")
            if self.desk.values_before is not None or self.desk.values is not None:
                self.desk.refresh()

    async def _nudge(self, said: Any) -> None:
        await self._drop(said)

    async def _cure(self, key: Any) -> None:
        found = next((f for f in self.desk.findings if wording.key_of(f) == key and f.cure), None)
        habitat = self.desk.habitat
        if found is None or found.cure is None or habitat is None:
            return
        loc, changes = moves.cure_changes(self.desk.draft, habitat, found.cure)
        guess = moves.lamps_with(habitat, loc, changes)
        label = f"move {self._title(loc)}"
        if await self.view.edit(lambda: self.desk.draft.change(changes, label), guess):
            self.pick(tree.ident(loc))

    # -- fields and hours --------------------------------------------------------------------

    async def _ask(self, said: Any) -> None:
        """Another quantity, plane, position, hour or season."""
        before = dict(self.wanted)
        self.wanted = field_data.asked(said, self.wanted, self.desk)
        if self.wanted["season"] != self.desk.season and self.wanted["season"] in SEASONS:
            later(self.desk.show_season(self.wanted["season"]))
        self.fields.give(bar=self._field_bar())
        same = all(before[k] == self.wanted[k] for k in ("quantity", "plane", "position"))
        await self._hour_values()
        if same and self.field is not None:
            self._paint()
        else:
            await self._show_field()

    async def _hour_values(self) -> None:
        hour, habitat = self.wanted["hour"], self.desk.habitat
        self.scene.run_method("glow", self.desk.shares(hour))
        if hour is None or habitat is None:
            self.sites.give(table=self._table(), picked=self.picked)
            self._labels()
            return
        try:
            self.hour_values = await self.desk.engines.run(
                self.desk.id, "glance", slot="hour", habitat=habitat, shares=self.desk.shares(hour)
            )
        except (JobStoppedError, JobFailedError):
            return
        with self.view.client:
            self.sites.give(table=self._table(), picked=self.picked)
            self._labels()

    async def _show_field(self) -> None:
        wanted = dict(self.wanted)
        if wanted["quantity"] == "none" or self.desk.habitat is None:
            self.field = None
            with self.view.client:
                self.scene.run_method("setField", None)
            return
        try:
            field = await field_data.field(self.desk, wanted)
        except JobStoppedError:
            return
        except (JobFailedError, LookupError) as error:
            with self.view.client:
                self.scene.run_method("setField", None)
                self.view.say(str(error))
            return
        if wanted["quantity"] != self.wanted["quantity"]:
            return
        self.field = {**field, "of": self._of()}
        with self.view.client:
            self.scene.run_method("setField", self._sent(field))

    def _sent(self, field: dict[str, Any]) -> dict[str, Any]:
        """A field as it goes over the wire, painted for the hour."""
        out = {k: v for k, v in field.items() if k not in ("values", "triangles", "patch", "most")}
        for key in ("values", "triangles", "patch"):
            if key in field:
                out[key] = base64.b64encode(field[key].tobytes()).decode("ascii")
        return {**out, **field_data.paint(self.desk, self.wanted, field, self.view.system)}

    def _paint(self) -> None:
        if self.field is not None:
            self.scene.run_method(
                "paint", field_data.paint(self.desk, self.wanted, self.field, self.view.system)
            )


def _clock(hour: float) -> str:
    return f"{int(hour) % 24:02d}:{round(hour % 1 * 60) % 60:02d}"


def build(view: View) -> None:
    """Lay the page out."""
    _Habitat(view)


PAGE = Page("habitat", "Habitat", 1, build)
