"""The design behind a starter file: pieces, plants, lamps and sites in their places [m]."""

from __future__ import annotations

import math
from dataclasses import replace

from loamwright.engine.lamp_bodies import spot_depth
from loamwright.files.catalogue import Catalogue
from loamwright.files.starter_climate import climate_for
from loamwright.files.starter_lamps import (
    Tube,
    choose_bars,
    choose_flood,
    choose_tube,
    passes,
    wanted_heat,
    zone_of,
)
from loamwright.files.starter_living import (
    DAMP,
    DRY,
    Bed,
    climate_of,
    layers_for,
    plants_for,
    stays,
)
from loamwright.files.starter_parts import Design, Hole, Lamp, Place, Planted
from loamwright.files.starter_pieces import (
    COOL_HIDE,
    HIGH_HIDE,
    WARM_HIDE,
    Room,
    climbing,
    laying_places,
    on_ground,
)
from loamwright.files.starter_room import (
    EMITTERS,
    bounds,
    choose_heater,
    room_for,
    warmth_for,
)
from loamwright.files.starter_ruler import Ruler
from loamwright.files.starter_space import buried_by, group_for, lining_depth, pool_for
from loamwright.habitat.catalogue import Species
from loamwright.habitat.enclosure import Vec2, Vec3

HOT_STONE = 311.0
"""Face of a basking stone [K] that dense stone does not reach under one flood."""

SHORTEST_BAR = 0.55
"""Length of the shortest plant light [m]."""

HALF_BAR = 0.02
"""Half the width of a plant light, and a little air [m]."""

STRIP = (0.48, 0.63)
"""Where the ultraviolet tube lies, and the hot lamps behind it, as shares of the depth."""

HEATERS, OVER_HIDE = (0.87, 0.72, 0.95), 0.2
"""Where heaters hang, as shares of the width and the depth: over the hide, under glass."""

THROUGH_GLASS = 0.85
"""Share of a plant light that comes through a pane on its slanting ways."""


def design(catalogue: Catalogue, species: Species, inside: Vec3, ruler: Ruler) -> Design:
    """A first design for an animal in a box [m]."""
    return _Designer(catalogue, species, inside, ruler).design()


def stone_of(species: Species) -> str:
    """What to bask on: where it has to be hot a light, porous stone, whose face keeps the heat."""
    wanted = [t for t in species.basking_surface if t is not None]
    return "lava-rock" if max(wanted, default=0.0) > HOT_STONE else "sandstone"


def _rows(count: int, behind: float) -> list[float]:
    """Where rows of bars lie, as shares of the depth: before the tube, and from ``behind`` it and the
    flood on."""
    front, back = (0.1, 0.38), (behind, max(0.9, behind))
    share = (front[1] - front[0]) / (front[1] - front[0] + back[1] - back[0])
    first = min(max(round(count * share), 1), count - 1)
    out = []
    for (low, high), many in ((front, first), (back, count - first)):
        out += [low + (high - low) * (k + 0.5) / many for k in range(many)]
    return out


class _Designer:
    """Works from the ground up to the lamps."""

    def __init__(self, catalogue: Catalogue, species: Species, inside: Vec3, ruler: Ruler) -> None:
        self.catalogue, self.species, self.inside, self.ruler = catalogue, species, inside, ruler
        self.climate = climate_of(species)
        self.climbs = species.stratum.startswith("arboreal") or (
            species.animal_class == "Amphibia" and "arboreal" in species.stratum
        )
        self.zone, self.zone_known = zone_of(species)
        self.rooms = room_for(species, self.climate)
        self.warmth = warmth_for(species, self.rooms)
        self.flood = wanted_heat(species) > 0
        self.glass = species.animal_class == "Amphibia"
        length = species.body_length or 0.12
        small = species.animal_class == "Amphibia" and length < 0.06
        self.mesh = (
            "fine-insect-mesh" if small
            else "aluminium-mesh-2mm" if length < 0.06 or species.animal_class == "Amphibia"
            else "steel-mesh-12mm"
        )  # fmt: skip
        self.length = length
        self.layers = [
            replace(x, depth=ruler.round(x.depth))
            for x in layers_for(self.climate, inside[2], buried_by(species))
        ]
        self.surface = sum(x.depth for x in self.layers)
        self.above = inside[2] + (0.0508 if ruler.system == "us" else 0.05)
        self.hung = inside[2] - 0.04

        w, d, h = inside
        self.bowl = min(max(0.8 * length, 0.06), 0.2 * w, 0.25 * d)
        if "aquatic" in species.stratum:
            self.bowl = min(2.0 * self.bowl, 0.25 * w, 0.3 * d)
        self.bowl_depth = min(0.03, 0.3 * self.bowl, 0.1 * h)
        area, deep = pool_for(species)
        self.bowl = max(self.bowl, min(ruler.up(math.sqrt(area)), 0.4 * w, 0.4 * d))
        self.bowl_depth = max(self.bowl_depth, min(ruler.up(deep), 0.3 * h))
        self.bowl_at = (0.48 * w, max(0.2 * d, 0.5 * self.bowl + 0.02))

    def design(self) -> Design:
        """The whole design."""
        _, d, h = self.inside
        tube = self._tube()
        place = self._basking_height(tube)
        lamp_z = self.above if tube.above else self.ruler.round(place + tube.distance)
        branch = min(max(0.3 * self.length, 0.02), 0.07, 0.08 * h)
        # Frogs and small lizards come in numbers, so tall boxes get more than one way up.
        room = Room(self.inside, self.surface, place, self.length, self.ruler)
        pieces = climbing(room, branch) if self.climbs else on_ground(room, stone_of(self.species))
        lamps = self._lamps(tube, place, lamp_z)
        return Design(
            inside=self.inside,
            panel="float-glass" if self.glass else "pvc-foam-board",
            lining="clay-background" if self.climate == DRY else "cork-tile",
            lining_depth=lining_depth(d),
            openings=self._openings(tube.above),
            layers=tuple(self.layers),
            pieces=tuple(pieces),
            plants=self._plants(place, lamps),
            lamps=lamps,
            sites=self._sites(place),
            bowl_at=self.bowl_at,
            bowl_size=(self.bowl, self.bowl),
            bowl_depth=self.bowl_depth,
            zone=self.zone,
            zone_known=self.zone_known,
            uv_distance=lamp_z - place,
            climate=climate_for(
                self.species, self.climate, self.inside, basks=self.flood, room=self.rooms.winter[0]
            ),
            mesh=self.mesh,
            rooms=self.rooms,
            warmth=self.warmth,
            surface=self.surface,
        )

    # -- heights -----------------------------------------------------------------------------

    def _tube(self) -> Tube:
        """The ultraviolet lamp: above the window where its distance can be had there."""
        air = self.inside[2] - self.surface
        if self.climbs:
            low, high = self.surface + 0.3 * air, self.surface + 0.85 * air
        else:
            low, high = self.surface + 0.03, self.surface + 0.45 * air
        cover = self.catalogue.covers[self.mesh]
        cage = self.catalogue.covers["wire-cage"]
        spans = {True: (self.above - high, self.above - low)}
        if self.inside[0] >= SHORTEST_BAR + 0.02:  # in a narrower box no plant light fits
            spans[False] = (0.05, max(0.06, self.hung - low))
        share = {True: passes(cover), False: passes(cage)}
        return choose_tube(self.catalogue.lamps, self.zone, self.inside[0], spans, share)

    def _basking_height(self, tube: Tube) -> float:
        air = self.inside[2] - self.surface
        if tube.above:
            return self.ruler.round(max(self.above - tube.distance, self.surface + 0.02))
        wanted = self.surface + (0.6 * air if self.climbs else min(0.15, 0.2 * air))
        highest = max(self.hung - tube.distance, self.surface + 0.02)
        return self.ruler.round(min(wanted, highest))

    # -- plants ------------------------------------------------------------------------------

    def _rootable(self) -> float:
        """Depth of the ground above its drainage, litter left out [m]."""
        loose = [x for x in self.layers if x.kind not in ("drainage-mat", "fleece", "leaf-litter")]
        return sum(x.depth for x in loose)

    def _plants(self, place: float, lamps: tuple[Lamp, ...]) -> tuple[Planted, ...]:
        w, d, _ = self.inside
        room = place - self.surface
        spots = [(0.83 * w, 0.8 * d), (0.46 * w, 0.8 * d), (0.1 * w, 0.78 * d),
                 (0.1 * w, 0.16 * d) if self.climbs else (0.28 * w, 0.82 * d)]  # fmt: skip
        bed = Bed(bounds(self.rooms, self.warmth), self._rootable(), self._over(spots[0], lamps),
                  min(w, d))  # fmt: skip
        left = plants_for(self.catalogue.plants, self.species, bed)
        made: list[Planted] = []
        for spot in spots[: 3 if w * d < 0.25 else 4]:
            over = self._over(spot, lamps)
            found = next((x for x in left if stays(x[1], over, bed.across)), None)
            if found is None and (made or not left):
                continue
            key, plant = found or left[0]
            left = [x for x in left if x[0] != key]
            high = min(0.6 * (plant.mature_height or 0.2), 0.9 * room)
            wide = min(0.6 * (plant.mature_spread or 0.2), 0.3 * d)
            on = "climbing branch" if self.climbs and "tank epiphyte" in plant.form else ""
            name = plant.label.split(",")[0].removeprefix("small ")
            made.append(Planted(name, key, spot, max(high, 0.01), max(wide, 0.02), on, 0.35))
        return tuple(made)

    def _over(self, spot: Vec2, lamps: tuple[Lamp, ...]) -> float:
        """Height over the ground that a plant may grow to [m]: to the top, or to where a lamp over its
        crown, a sixth of the depth to each side, must not be neared."""
        top = self.inside[2]
        for lamp in lamps:
            if math.dist(spot, lamp.at[:2]) <= 0.15 * self.inside[1] + 0.1:
                least = self.catalogue.lamps[lamp.key].min_distance or 0.0
                top = min(top, lamp.at[2] - least)
        return top - self.surface

    # -- lamps -------------------------------------------------------------------------------

    def _lamps(self, tube: Tube, place: float, lamp_z: float) -> tuple[Lamp, ...]:
        w, d, h = self.inside
        lamps = self.catalogue.lamps
        cover = passes(self.catalogue.covers[self.mesh if tube.above else "wire-cage"])
        half = lamps[tube.key].length / 2
        # Over the warm side, as far left as its length allows.
        x = min(max(0.4 * w, half + 0.01), max(w - half - 0.01, w / 2))
        guard = not tube.above
        behind = 0.74 if self.hot else 0.58
        out = [Lamp("uv", tube.key, (x, STRIP[0] * d, lamp_z), guard=guard)]
        if self.flood:
            heat = wanted_heat(self.species)
            z = self.above if tube.above else min(self.hung, place + max(0.35, tube.distance))
            key, dim = choose_flood(lamps, heat, z - place, cover)
            if not tube.above:
                # Its body wants room under the top, and below the plant lights.
                z = min(z, self._low(key, place))
                key, dim = choose_flood(lamps, heat, z - place, cover)
            beside = 0.5 * (lamps[tube.key].reflector_width + lamps[key].diameter) + 0.005
            spot = (self._basking_x(), max(STRIP[1] * d, STRIP[0] * d + beside), z)
            flood = Lamp("basking flood", key, spot, True, guard, dim, control="basking")
            out.append(flood)
            if tube.above:
                # Its body leans back, away from what it shines on.
                lean = math.atan2(spot[1] - STRIP[0] * d, z - place)
                reach = 0.5 * lamps[key].diameter + spot_depth(lamps[key].diameter) * math.sin(lean)
                behind = min(max(behind, (spot[1] + reach + HALF_BAR) / d), 0.92)
        z = self.above if tube.above else self.hung
        if self.warmth is not None:
            key, count = choose_heater(
                lamps, self.warmth, self.rooms, self.inside, self._low(EMITTERS[0], place) - place
            )
            low = self._low(key, place)
            for i in range(count):
                name = "heater" if count == 1 else f"heater {i + 1}"
                at = (HEATERS[i] * w, OVER_HIDE * d, low)
                out.append(Lamp(name, key, at, guard=True, always=True, control="warmth"))
        bars = choose_bars(lamps, w, d, h - self.surface, THROUGH_GLASS if tube.above else 1.0)
        ys = _rows(bars.rows, behind)
        for i in range(bars.columns):
            for j, y in enumerate(ys):
                at = (w * (i + 0.5) / bars.columns, y * d, z)
                number = i * bars.rows + j + 1
                out.append(Lamp(f"plants {number}", bars.key, at, dim=bars.dim, all_day=True))
        return tuple(out)

    def _low(self, key: str, place: float) -> float:
        """Height of the face of a spot hung inside, its body below the plant lights [m]; in a box too
        low for that, over the basking place."""
        deep = spot_depth(self.catalogue.lamps[key].diameter)
        return max(self.hung - deep, min(place + 0.09, self.hung))

    def _basking_x(self) -> float:
        return (0.36 if self.climbs else 0.27) * self.inside[0]

    @property
    def hot(self) -> bool:
        """Whether hot lamps lie behind the tube."""
        return self.flood or self.warmth is not None

    def _openings(self, above: bool) -> tuple[Hole, ...]:
        """Mesh where ultraviolet and heat come in, glass under the plant lights, a slot for air:
        what is open at the top takes warmth and damp with it."""
        w, d, h = self.inside
        slot = 0.008 if self.climate == DAMP else min(max(0.015, 0.02 * h), 0.06 * h)
        low = Hole("low air", "front", (0.5 * w, self.surface + 0.02 + slot), (0.5 * w, slot),
                   self.mesh, "Fresh air comes in low at the front.")  # fmt: skip
        if not above:
            top = Hole("high air", "top", (0.5 * w, 0.9 * d), (0.5 * w, 0.06 * d), self.mesh,
                       "Warm air leaves at the top.")  # fmt: skip
            return (top, low)
        end = 0.72 if self.hot else 0.56
        strip = self._window("lamp window", (0.4, end), self.mesh,
                             "Ultraviolet and heat come in here, the lamps out of reach.")  # fmt: skip
        if self.glass:
            return (strip, low)
        panes = [
            self._window(f"{side} pane", span, "float-glass-sheet",
                         "The plant lights shine through glass: it keeps warm and damp air in.")
            for side, span in (("front", (0.06, 0.39)), ("back", (end + 0.01, 0.94)))
        ]  # fmt: skip
        return (strip, *panes, low)

    def _window(self, name: str, span: Vec2, cover: str, why: str) -> Hole:
        """A window over the width, from one share of the depth to another."""
        w, d, _ = self.inside
        r = self.ruler
        size = (r.down(0.94 * w), r.down((span[1] - span[0]) * d))
        return Hole(name, "top", (0.5 * w, 0.5 * (span[0] + span[1]) * d), size, cover, why)

    # -- sites -------------------------------------------------------------------------------

    def _sites(self, place: float) -> tuple[Place, ...]:
        w, d, _ = self.inside
        on = "basking branch" if self.climbs else "basking stone"
        sites = [Place("basking", "basking", on=on, along=0.33 if self.climbs else None)]
        if self.climbs:
            sites.append(Place("middle perch", "perch", on="climbing branch", along=0.6))
        else:
            sites.append(Place("cool perch", "perch", on="cool stone"))
        sites.append(Place("hide", "hide", on=COOL_HIDE, along=0.5, inside=True))
        second = HIGH_HIDE if self.climbs else WARM_HIDE
        sites.append(
            Place(second.replace("tube", "hide"), "hide", on=second, along=0.5, inside=True)
        )
        if group_for(self.species).females:
            water = (*self.bowl_at, self.surface + self.bowl_depth + 0.02)
            sites += laying_places(self.species, self.inside, water, self.climbs)
        probe = self.surface + max(0.5 * (place - self.surface), 0.02)
        sites.append(Place("mid air", "probe", at=(0.56 * w, 0.3 * d, probe)))
        return tuple(sites)
