"""Spots: a handful of places on every piece and on the ground, so that a choice is not one of named
sites only.

A place gives nothing back to the climate, so spots are read out of a run that is done: air and damp of
the cells, what a body sees of the surfaces, and the lamps' light at them. Unlike at a named site, a
body there rests on nothing: warmth out of what it lies on is left out.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

import numpy as np
from numpy.typing import NDArray

from loamwright.engine.climate.assemble import Built
from loamwright.engine.climate.looks import groups_of_patches
from loamwright.engine.climate.reading import about_lamps, humidity, light_at, radiant_at, saturated
from loamwright.engine.climate.results import ClimateRun
from loamwright.engine.climate.tracing import sight_from
from loamwright.engine.life.climbing import GROUND, ROD, SOLID, STEM, Places
from loamwright.engine.light.bench import bare_lamp
from loamwright.engine.light.directions import sphere
from loamwright.engine.light.emitters import emitter_of
from loamwright.engine.light.model import BOUNCED, Detail
from loamwright.engine.light.record import WAYS, LightStudy
from loamwright.engine.light.sensors import Sensors, View
from loamwright.engine.lower import lower_scene
from loamwright.habitat.bands import OPTICS_OF_BAND
from loamwright.habitat.catalogue import Species
from loamwright.habitat.habitat import Habitat

Floats = NDArray[np.float64]
Ints = NDArray[np.int64]

EACH = {ROD: 3, STEM: 2, SOLID: 3, GROUND: 6}
"""Spots on one thing, by what it is; walls have none."""

OFF = 0.01
"""How far over its surface a spot lies [m]."""

RAYS = 512
"""Rays that look for surfaces from a spot."""


@dataclass(frozen=True)
class Spots:
    """Spots (Z): rows ``foot`` of the foot places they stand on, ``at`` (Z, 3) [m] and ``on`` what;
    transport ``ways`` (L, Z, `WAYS`, 5) [1/m2] from each lamp per watt in each band, and the ``share``
    (Z, S) of a body's surroundings that each surface of the climate makes up."""

    foot: Ints
    at: Floats
    on: tuple[str, ...]
    ways: NDArray[np.float32]
    share: Floats

    def arrays(self) -> dict[str, NDArray[Any]]:
        """Named arrays of plain kinds."""
        return {"foot": self.foot, "at": self.at, "on": np.array(self.on, dtype=np.str_),
                "ways": self.ways, "share": self.share}  # fmt: skip

    @classmethod
    def from_arrays(cls, arrays: Mapping[str, NDArray[Any]]) -> Spots:
        """From what `arrays` gave."""
        return cls(arrays["foot"], arrays["at"], tuple(str(v) for v in arrays["on"]),
                   arrays["ways"], arrays["share"])  # fmt: skip


@dataclass(frozen=True)
class Between:
    """Spots between the named places, with the network that their air and surfaces are read from."""

    spots: Spots
    built: Built


def chosen(places: Places) -> Ints:
    """Rows of foot places taken as spots: on each thing far from each other, the highest first; of
    solid pieces only what faces up."""
    out: list[int] = []
    for number in range(len(places.owners)):
        mine = np.flatnonzero(places.owner == number)
        kind = int(places.kind[mine[0]])
        if kind == SOLID:
            mine = mine[places.normal[mine, 2] > 0.5]
        if kind not in EACH or not len(mine):
            continue
        at = places.at[mine]
        taken = [int(at[:, 2].argmax())]
        if kind == GROUND:
            taken = [int(np.linalg.norm(at - at.mean(axis=0), axis=1).argmin())]
        far = np.linalg.norm(at - at[taken[0]], axis=1)
        while len(taken) < min(EACH[kind], len(mine)):
            taken.append(int(far.argmax()))
            far = np.minimum(far, np.linalg.norm(at - at[taken[-1]], axis=1))
        out += [int(mine[i]) for i in taken]
    return np.array(out, np.int64)


def look(habitat: Habitat, study: LightStudy, built: Built, places: Places) -> Spots:
    """Follow light to the spots, and look from them at the surfaces of the climate."""
    foot = chosen(places)
    lift = np.where(places.normal[foot, 2:] > 0.0, places.normal[foot], [0.0, 0.0, 1.0])
    solid = np.where(places.kind[foot] == STEM, 0.0, places.round[foot])
    at = places.at[foot] + lift * (solid + OFF)[:, None]
    scene = lower_scene(habitat)
    view = View.of(scene)
    normals = np.tile(sphere(WAYS), (len(at), 1))
    sensors = Sensors(view, at, normals, Detail().site_rays, all_round=True)
    groups = np.array(OPTICS_OF_BAND[:BOUNCED], np.int64)
    ways = np.zeros((len(habitat.lamps), len(at), WAYS, 5), np.float32)
    for k, lamp in enumerate(habitat.lamps):
        light = sensors.straight(emitter_of(bare_lamp(lamp)))
        # What a patch sends on is what the study found to arrive there, times what it reflects.
        sent = scene.reflect[:, groups] * study.patch_light[k][:, :BOUNCED].astype(np.float64)
        light[:, :BOUNCED] += sensors.bounced(sent, groups)
        ways[k] = light.reshape(len(at), WAYS, 5)
    onto = _onto(built, scene.patches)
    shares, leaves = sight_from(view, at, lift, RAYS)
    below, below_leaves = sight_from(view, at, -lift, RAYS)
    share = 0.5 * (shares + below) @ onto
    count = len(built.leaf_plants)
    if count:
        first = len(built.groups)
        area = built.net.area[first : first + count]
        share[:, first : first + count] += (
            0.5 * (leaves + below_leaves)[:, None] * area / area.sum()
        )
    names = tuple(places.owners[i] for i in places.owner[foot])
    return Spots(foot, at, names, ways, share)


def _onto(built: Built, patches: int) -> Floats:
    """Which surface of the climate each patch belongs to, (P, S): groups, then leaves, then holes."""
    of = groups_of_patches(built.groups, built.holes, patches)
    solid, leaves = len(built.groups), len(built.leaf_plants)
    column = np.where(of >= solid, of + leaves, of)
    out = np.zeros((patches, len(built.net.area)))
    rows = np.flatnonzero(of >= 0)
    out[rows, column[rows]] = 1.0
    return out


@dataclass(frozen=True)
class Reading:
    """What a run says at spots (R rows, Z spots): ``operative`` [K] of one species, None where its body
    is not known, and ``humidity`` [1]."""

    operative: Floats | None
    humidity: Floats


def read(
    habitat: Habitat, species: Species, spots: Spots, which: Ints, run: ClimateRun, built: Built
) -> Reading:
    """What a run says at some spots (``which``) for a body of a species."""
    from loamwright.engine.climate.operative import operative_table

    cells = np.array([built.cells.between(p) for p in spots.at[which]]).reshape(len(which), -1)
    air = run.cell_air @ cells.T
    vapour = (run.cell_humidity * saturated(run.cell_air)) @ cells.T
    radiant = radiant_at(built, run.room, run.surfaces, spots.share[which])
    over = run.bodies - about_lamps(built, run.cell_air, run.room)
    beam, even, warm = light_at(habitat.lamps, built, spots.ways[:, which], run.lamps, over)
    found = operative_table(species, beam, even, warm, radiant, air, vapour, np.zeros_like(air))
    return Reading(None if found is None else found[0], humidity(vapour, air))
