"""What usually moves a value the right way, and where in the habitat file that is written.

Nothing here is computed: it says where to turn, and the next check says what came of it.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

from loamwright.engine.findings import Finding, State
from loamwright.habitat.ground import DRAINING
from loamwright.habitat.habitat import Habitat
from loamwright.habitat.sites import ROLES
from loamwright.report.plain import clean

Loc = tuple[str | int, ...]


DARK = 0.2
"""A heater that sends out less light and ultraviolet than this is taken as dark [W]."""


@dataclass(frozen=True, slots=True)
class Step:
    """Something to try: ``text`` as a clause, ``loc`` the entry of the habitat file it is done in
    (empty where there is none yet), ``label`` what that entry is called."""

    text: str
    loc: Loc = ()
    label: str = ""


def steps(finding: Finding, habitat: Habitat) -> tuple[Step, ...]:
    """What to try for a need that is missed, close or not known; at most three things."""
    if finding.state is State.MET:
        return ()
    if finding.state is State.NOT_KNOWN:
        return _make_known(finding)
    side = side_of(finding)
    if side is None:
        return ()
    make = _RULES.get(kind_of(finding))
    return tuple(make(_Case(finding, habitat, side == "low")))[:3] if make is not None else ()


def _make_known(finding: Finding) -> tuple[Step, ...]:
    """How a need becomes one that can be judged."""
    kinds = {c.kind: c.subject for c in finding.causes}
    if "no_number" in kinds:
        text = "if you know the number, write it with its source under needs: in the habitat file"
        return (Step(text, ("needs",), "own needs"),)
    if "no_rating" in kinds:
        return (Step("write what the stand is rated for", ("enclosure", "stand"), "stand"),)
    if "no_site" not in kinds:
        return ()
    place = kinds["no_site"]
    if place in ROLES:
        text = f"name such a place under sites: in the habitat file, with role: {place}"
    elif place == "door":
        text = "give the panel that opens its doors: in the habitat file"
        return (Step(text, ("enclosure", "panels", "front"), "front panel"),)
    else:
        text = "let the need name a site that stands under sites: in the habitat file"
    return (Step(text, ("sites",), "sites"),)


def side_of(finding: Finding) -> str | None:
    """Which limit a value is beyond or next to."""
    value, low, high = finding.value, finding.low, finding.high
    if value is None or (low is None and high is None):
        return None
    if low is None or high is None:
        return "high" if low is None else "low"
    return "low" if value - low < high - value else "high"


_BY_QUANTITY = {
    "uvi": "uv-basking", "uva": "uv-basking", "uvb": "uv-basking", "ppfd": "plant-light",
    "dli": "plant-light", "lux": "plant-light", "air_temperature": "air-warm",
    "surface_temperature": "basking-surface", "operative_temperature": "body-warm",
    "humidity": "humidity-day",
}  # fmt: skip


def kind_of(finding: Finding) -> str:
    """The need by its code; an own need is treated as others of its quantity are."""
    if finding.need == "own-need":
        return _BY_QUANTITY.get(finding.quantity, "")
    return finding.need


class _Case:
    """One finding with the things of the habitat that bear on it; ``low`` True for too little."""

    def __init__(self, finding: Finding, habitat: Habitat, low: bool) -> None:
        self.finding, self.habitat, self.low = finding, habitat, low

    def lamp(self, name: str = "") -> tuple[Loc, str] | None:
        """A lamp by name, or the one that gives most of this value."""
        wanted = name or next(
            (c.subject for c in self.finding.causes if c.kind in ("lamp_share", "lamp_heat")), ""
        )
        for n, lamp in enumerate(self.habitat.lamps):
            if lamp.name == wanted:
                return ("lamps", n), f"lamp '{clean(lamp.name, 40)}'"
        return None

    def plant(self) -> list[Step]:
        """The plant it is about, to be moved or exchanged."""
        for n, plant in enumerate(self.habitat.plants):
            if plant.name == self.finding.about:
                label = f"plant '{clean(plant.name, 40)}'"
                return [Step(f"move {label}, or take another kind", ("plants", n), label)]
        return []

    def site(self, text: str) -> list[Step]:
        """The place it is told of."""
        for n, site in enumerate(self.habitat.sites):
            if site.name == self.finding.site and site.role != "crown":
                label = f"site '{clean(site.name, 40)}'"
                return [Step(f"{text} {label}", ("sites", n), label)]
        return []

    def controls(self, kinds: tuple[str, ...], text: str, dark: bool = False) -> list[Step]:
        """Controllers of these kinds, the first kind first; ``dark`` True for those alone that drive a
        heater without light."""
        found = [c for kind in kinds for c in self.habitat.controls if c.kind == kind]
        if dark:
            unlit = {x.control for x in self.habitat.lamps if sum(x.type.band_watts[:3]) < DARK}
            found = [c for c in found if c.name in unlit]
        return [
            Step(f"{text} of controller '{clean(c.name, 40)}'", ("controls", c.name),
                 f"controller '{clean(c.name, 40)}'")
            for c in found
        ]  # fmt: skip

    def fan(self, text: str) -> list[Step]:
        """The first fan, or that there is none."""
        if self.habitat.fans:
            name = clean(self.habitat.fans[0].name, 40)
            return [Step(f"{text} of the fans", ("air", 0), f"fan '{name}'")]
        return []

    def mist(self, text: str) -> list[Step]:
        """The mist's times."""
        return [Step(text, ("mist",), "mist")] if self.habitat.mist is not None else []

    def mix(self, text: str) -> list[Step]:
        """The deepest layer that roots can go into."""
        loose = [(x.depth, n) for n, x in enumerate(self.habitat.ground.layers)
                 if x.kind not in (*DRAINING, "leaf-litter")]  # fmt: skip
        if not loose:
            return [Step("give it a layer of ground", ("ground",), "ground")]
        n = max(loose)[1]
        label = f"layer '{clean(self.habitat.ground.layers[n].name, 40)}'"
        return [Step(f"{text} {label}", ("ground", n), label)]

    def drainage(self, text: str) -> list[Step]:
        """The lowest layer that drains."""
        for n, layer in enumerate(self.habitat.ground.layers):
            if layer.kind in DRAINING and layer.kind != "fleece":
                label = f"layer '{clean(layer.name, 40)}'"
                return [Step(f"{text} {label}", ("ground", n), label)]
        return [Step("give the ground a layer that drains", ("ground",), "ground")]


# -- light ---------------------------------------------------------------------------------------


def _uv(case: _Case) -> list[Step]:
    found = case.lamp()
    if found is None:
        return [Step("hang an ultraviolet lamp over it", ("lamps",), "lamps")] if case.low else []
    loc, label = found
    if case.low:
        return [Step(f"bring {label} nearer, or take a stronger one", loc, label),
                *case.site("move nearer to it")]  # fmt: skip
    return [Step(f"hang {label} further away, or take a weaker one", loc, label),
            *case.site("move into its shade")]  # fmt: skip


def _plant_light(case: _Case) -> list[Step]:
    found = case.lamp()
    out = []
    if found is not None:
        loc, label = found
        text = ("bring {} nearer, let it burn longer or brighter" if case.low else
                "hang {} further away, or dim it")  # fmt: skip
        out.append(Step(text.format(label), loc, label))
    elif case.low:
        out.append(Step("hang a plant lamp over it", ("lamps",), "lamps"))
    return [*out, *case.plant()]


def _lamp_near(case: _Case) -> list[Step]:
    found = case.lamp(case.finding.about)
    return [Step(f"hang {found[1]} further from what lies before it", *found)] if found else []


def _people(case: _Case) -> list[Step]:
    found = case.lamp()
    out = [Step("stay before the open doors for less time", ("people",), "people in front")]
    return [*out, Step(f"switch {found[1]} off while the doors are open", *found)] if found else out


# -- heat and air --------------------------------------------------------------------------------


def _lit(case: _Case) -> list[Step]:
    """Something warmed by lamps."""
    found, out = case.lamp(), []
    if found is not None:
        loc, label = found
        text = "bring {} nearer, aim it there, or take more watts" if case.low else (
            "hang {} further away, dim it, or take fewer watts")  # fmt: skip
        out.append(Step(text.format(label), loc, label))
        control = case.habitat.lamps[int(loc[1])].control
        if control:
            which = "higher" if case.low else "lower"
            name = f"controller '{clean(control, 40)}'"
            out.append(Step(f"set {name} {which}", ("controls", control), name))
    elif case.low:
        out.append(Step("hang a lamp that warms over it", ("lamps",), "lamps"))
    if case.low and found is not None:
        out.append(Step("hang another lamp that warms over it", ("lamps",), "lamps"))
    return [*out, *case.site("move nearer to the lamp" if case.low else "move away from the lamp")]


def _air(case: _Case) -> list[Step]:
    """Air that is too cold or too warm."""
    night = "night" in case.finding.need or "night" in case.finding.when
    season = next((s for s in ("winter", "summer") if s in case.finding.when), "")
    room = [Step(f"keep the room {'warmer' if case.low else 'cooler'}", ("room", season),
                 f"room in {season}")] if season else []  # fmt: skip
    heat = ("thermostat", "dimming-thermostat")
    if case.low:
        what = "a higher night value" if night else "a higher set value"
        # By night only what gives no light may warm.
        held = case.controls(heat, what, dark=night) or [
            Step("hang a heater that gives no light, on a thermostat", ("lamps",), "lamps")
        ]
        return [*held[:1], *case.fan("a lower speed, or fewer hours,"), *room]
    held = case.controls(heat, "a lower night value" if night else "a lower set value")
    blown = case.controls(("cooling",), "a lower value") or case.fan("a higher speed")
    if night:
        return [*held[:1], *blown[:1], *room]
    lamp = max(range(len(case.habitat.lamps)), default=None,
               key=lambda n: case.habitat.lamps[n].type.power)  # fmt: skip
    fewer = []
    if lamp is not None:
        label = f"lamp '{clean(case.habitat.lamps[lamp].name, 40)}'"
        fewer = [Step(f"take fewer watts than {label} has, or hang it above the top",
                      ("lamps", lamp), label)]  # fmt: skip
    return [*blown[:1], *fewer, *room]


def _damp(case: _Case) -> list[Step]:
    """Air that is too dry or too damp."""
    which = case.controls(("humidistat",), f"a {'higher' if case.low else 'lower'} value")
    if case.low:
        spray = case.mist("mist longer or more often") or [
            Step("give it nozzles and times to mist", ("mist", "nozzles"), "mist")
        ]
        return [*spray, *(which or case.fan("a lower speed"))[:1],
                *_openings(case, "cover a part of")]  # fmt: skip
    return [*(which or case.fan("a higher speed"))[:1], *case.mist("mist shorter or less often"),
            *_openings(case, "widen")]  # fmt: skip


def _openings(case: _Case, text: str) -> list[Step]:
    holes = case.habitat.enclosure.openings
    if not holes:
        return []
    n = max(range(len(holes)), key=lambda k: holes[k].size[0] * holes[k].size[1])
    label = f"opening '{clean(holes[n].name, 40)}'"
    return [Step(f"{text} {label}", ("enclosure", "openings", n), label)]


def _fresh_air(case: _Case) -> list[Step]:
    fan = case.fan("a higher speed, or more hours,") or [Step("add a fan", ("air",), "air")]
    return [*fan, *_openings(case, "widen")]


def _shelter(case: _Case) -> list[Step]:
    return [*case.site("move lower, or further from the lamps,"), *_air(case)]


def _wet(case: _Case) -> list[Step]:
    return [*case.mist("mist shorter, or earlier in the day"), *case.fan("a higher speed")]


def _touched(case: _Case) -> list[Step]:
    found = case.lamp(case.finding.about)
    return [Step(f"put a guard round {found[1]}", *found)] if found else []


def _tank(case: _Case) -> list[Step]:
    return case.mist("take a larger tank, or mist less")


# -- ground --------------------------------------------------------------------------------------


def _roots(case: _Case) -> list[Step]:
    return [*case.mix("deepen"), *case.plant()]


def _old(case: _Case) -> list[Step]:
    for n, layer in enumerate(case.habitat.ground.layers):
        if layer.reuse:
            label = f"layer '{clean(layer.name, 40)}'"
            return [Step(f"take less of the old ground into {label}", ("ground", n), label)]
    return []


def _load(case: _Case) -> list[Step]:
    return [Step("take a stand that is rated for it", ("enclosure", "stand"), "stand"),
            *case.mix("make shallower, or lighter,")]  # fmt: skip


def _moist(case: _Case) -> list[Step]:
    if case.low:
        return [*case.mist("mist longer or more often"),
                *case.mix("mix more that holds water into")]  # fmt: skip
    return [*case.mist("mist less, or nearer to noon"),
            *case.mix("mix coarser parts that drain into")]  # fmt: skip


def _drowned(case: _Case) -> list[Step]:
    return [*case.mist("mist less"), *case.mix("mix coarser parts that drain into"),
            *case.drainage("deepen")]  # fmt: skip


def _standing(case: _Case) -> list[Step]:
    return [*case.mist("mist less, or take a smaller tank"), *case.drainage("deepen")]


def _holiday(case: _Case) -> list[Step]:
    return [*case.mix("deepen, or mix more that holds water into"),
            *case.mist("let a controller mist while nobody is there")]  # fmt: skip


def _buried(case: _Case) -> list[Step]:
    for n, piece in enumerate(case.habitat.hardscape):
        if piece.name == case.finding.site:
            label = f"'{clean(piece.name, 40)}'"
            return [Step(f"lift {label}", ("hardscape", n), label), *case.mix("make shallower")]
    return [*case.site("lift"), *case.mix("make shallower")]


# -- animals and plants --------------------------------------------------------------------------


def _named(role: str) -> Callable[[_Case], list[Step]]:
    text = f"give it another place, named under sites: with role: {role}"
    return lambda case: [Step(text, ("sites",), "sites")]


def _bowl(case: _Case) -> list[Step]:
    return [Step("give it a bowl", ("water",), "water")]


def _room(case: _Case) -> list[Step]:
    inside = Step("build it larger", ("enclosure", "inside"), "inside measures")
    for n, group in enumerate(case.habitat.animals):
        if group.species.key == case.finding.about:
            return [inside, Step("keep fewer of them", ("animals", n), clean(group.species.label))]
    return [inside]


def _of_piece(text: str) -> Callable[[_Case], list[Step]]:
    """A change of the piece that the finding tells of."""

    def steps(case: _Case) -> list[Step]:
        for n, piece in enumerate(case.habitat.hardscape):
            if piece.name == case.finding.site:
                label = f"'{clean(piece.name, 40)}'"
                return [Step(text.format(label), ("hardscape", n), label)]
        return []

    return steps


def _lamp_room(case: _Case) -> list[Step]:
    found = case.lamp(case.finding.site)
    if found is None:
        return []
    return [Step(f"move {found[1]}, or take a shorter one", *found)]


def _plant(case: _Case) -> list[Step]:
    return case.plant()


def _moved_plant(text: str) -> Callable[[_Case], list[Step]]:
    """A change of the plant that the finding tells of."""

    def steps(case: _Case) -> list[Step]:
        for n, plant in enumerate(case.habitat.plants):
            if plant.name == case.finding.site:
                label = f"plant '{clean(plant.name, 40)}'"
                return [Step(text.format(label), ("plants", n), label)]
        return []

    return steps


_RULES: dict[str, Callable[[_Case], list[Step]]] = {
    "uv-basking": _uv, "uv-retreat": _uv, "uv-maximum": _uv, "uv-steepness": _uv,
    "plant-light": _plant_light, "plant-light-grown": _plant_light,
    "lamp-distance": _lamp_near, "people-uv": _people,
    "basking-surface": _lit, "body-warm": _lit, "hot-surface": _lit,
    "air-warm": _air, "air-cool": _air, "night-air": _air, "plant-cold": _air, "plant-heat": _air,
    "hide-warm": _air, "hide-cool": _shelter, "cool-shelter": _shelter,
    "humidity-day": _damp, "humidity-night": _damp, "plant-humidity": _damp,
    "air-changes": _fresh_air, "wet-pane": _wet, "wet-leaves": _wet, "hot-lamp": _touched,
    "tank": _tank,
    "root-depth": _roots, "laying-depth": _roots, "old-ground": _old, "load": _load,
    "ground-moist": _moist, "laying-moist": _moist, "ground-top": _drowned,
    "ground-air": _drowned, "ground-drowned": _drowned, "standing-water": _standing,
    "stuck-mist": _standing, "holiday": _holiday, "buried": _buried,
    "piece-held": _of_piece("move an end of {} until it meets a wall, the ground or another piece"),
    "piece-overlap": _of_piece("move {}, or join it to the other with a shallow notch"),
    "lamp-room": _lamp_room, "lamp-carried": _lamp_room,
    "crown-wall": _moved_plant("move {} away from it, or keep it smaller"),
    "crown-piece": _moved_plant("move {} beside it, or keep it smaller"),
    "root-ball": _moved_plant("move {}, or plant a younger one"),
    "perches": _named("perch"), "hides": _named("hide"), "laying-places": _named("laying"),
    "water-places": _bowl,
    "space-floor": _room, "space-sides": _room, "space-height": _room, "space-volume": _room,
    "plant-stature": _plant, "plant-prune": _plant, "plant-toxic": _plant, "plant-hold": _plant,
}  # fmt: skip
"""What to try by the need's code."""
