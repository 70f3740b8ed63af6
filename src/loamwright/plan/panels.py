"""Panels under ground, water and lamps: how far each bends and how hard it is strained."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass

from loamwright.engine.ground.lamp_mass import lamp_mass, on_top
from loamwright.engine.ground.load import SHEET, WATER
from loamwright.engine.ground.quantities import LayerAmount, Quantities
from loamwright.habitat.enclosure import Panel
from loamwright.habitat.ground import DRAINING
from loamwright.habitat.habitat import Habitat
from loamwright.physics import beams, plates
from loamwright.physics.nozzles import GRAVITY
from loamwright.plan.front_parts import sill_height

FRICTION = math.radians(30.0)
"""Angle of inner friction of loose ground [rad]; from memory, 28 to 35 degrees for loose sand and
mixes."""

BULGE = 1.0 / 200.0
"""Deflection of a panel as a share of its shorter span at which it is seen, and doors bind [1]; common
practice, no source. (The default of EN 16612 for panes is much more: 1/65 of the span.)"""

WIDE = 0.5
"""Share of a top's width from which on an opening cuts it into strips [1]."""

POINTED = 2.0
"""Even load that strains a strip as much as so heavy a lamp in its middle, over the lamp's own [1]."""

NARROW = 0.05
"""Width of a strip beside a top's windows below which it carries nothing without a frame [m]; common
practice, no source."""

SAMPLES = 9


@dataclass(frozen=True, slots=True)
class PanelLoad:
    """A panel, or what is left of it beside doors and openings, under its worst load.

    ``side`` and ``part`` (``whole``, ``sill``, ``front strip``, ``strip``, ``back strip``) say
    which; ``kind`` what bends it: ``ground`` or ``weight``; ``span`` and ``height`` [m] between its
    edges, ``held`` how; ``pressure`` [Pa] the greatest, moist and for good, and ``flooded`` [Pa]
    with the ground full of water (of a top both the same); ``loaded`` height the pressure acts over
    [m]; ``deflection`` [m], ``stress`` [Pa] flooded, ``allowed`` deflection [m] and ``strength``
    [Pa], None where not known; ``beyond`` True where it bends by more than half its thickness, so
    that the theory says too much.
    """

    side: str
    part: str
    kind: str
    material: str
    thickness: float
    span: float
    height: float
    held: str
    pressure: float
    flooded: float
    loaded: float
    allowed: float
    deflection: float | None = None
    stress: float | None = None
    strength: float | None = None
    beyond: bool = False

    @property
    def narrow(self) -> bool:
        """Whether it is a strip too narrow to carry anything by itself."""
        return self.part != "whole" and self.kind == "weight" and self.height < NARROW


def surface_along(habitat: Habitat, side: str) -> float:
    """Greatest height of the ground along a side [m]."""
    wide, deep, _ = habitat.enclosure.inside
    at = [(i + 0.5) / SAMPLES for i in range(SAMPLES)]
    places = {
        "back": [(s * wide, deep) for s in at], "front": [(s * wide, 0.0) for s in at],
        "left": [(0.0, s * deep) for s in at], "right": [(wide, s * deep) for s in at],
    }  # fmt: skip
    return max(habitat.ground.surface_at(x, y) for x, y in places[side])


def ground_pressures(layers: tuple[LayerAmount, ...]) -> tuple[float, float]:
    """Level pressure at the floor [Pa]: moist with water standing in the drainage, and flooded to
    the top.

    Ground at rest on its own weight, less what it floats up where it is flooded, and water in full.
    """
    rest = beams.rest_coefficient(FRICTION)
    moist = flooded = water = depth = 0.0
    drains = True
    for x in layers:
        if x.volume <= 0.0:
            continue
        drains = drains and x.kind in DRAINING
        full = x.flooded / x.volume
        afloat = max(0.0, full - WATER) * x.most
        moist += afloat if drains else x.moist / x.volume * x.most
        water += x.most if drains else 0.0
        flooded += afloat
        depth += x.most
    return (
        GRAVITY * (rest * moist + WATER * water),
        GRAVITY * (rest * flooded + WATER * depth),
    )


def panel_loads(habitat: Habitat, amount: Quantities) -> tuple[PanelLoad, ...]:
    """Every panel, and each strip of one that openings cut up."""
    found: list[PanelLoad] = []
    for panel in habitat.enclosure.panels:
        if panel.side == "floor":
            found.append(_floor(habitat, panel, amount))
        elif panel.side == "top":
            found += _top(habitat, panel)
        else:
            found += _side(habitat, panel, amount)
    return tuple(found)


def _bent(
    panel: Panel, part: str, kind: str, size: tuple[float, float], held: str,
    load: tuple[float, float, float], even: bool = False,
) -> PanelLoad:  # fmt: skip
    """A plate of a ``size`` under a ``load`` of (moist, flooded) pressure up to a height."""
    span, height = size
    if panel.ribs:
        span = min(span, panel.ribs)
    moist, flooded, loaded = load
    material = panel.material
    short = span if held in ("three", "two") else min(span, height)
    allowed = BULGE * short
    edges = {"four": ("held", "held"), "three": ("held", "free"), "two": ("free", "free")}
    deflection = stress = None
    young, poisson = material.young, material.poisson
    thin = part != "whole" and kind == "weight" and height < NARROW
    if (
        not thin
        and held != "everywhere"
        and young is not None
        and poisson is not None
        and loaded > 0.0
    ):
        # Small deflections grow in proportion: one plate under 1 Pa serves every load.
        bent = plates.plate(span, height, panel.thickness, young, poisson, 1.0, 1.0 if even else 0.0,
                            loaded, *edges[held])  # fmt: skip
        # What lies there for years creeps; a flood lasts for days.
        deflection = bent.deflection * max(moist / (material.creep or 1.0), flooded)
        stress = bent.stress * max(moist, flooded)
    beyond = deflection is not None and deflection > plates.SMALL * panel.thickness
    return PanelLoad(
        panel.side, part, kind, material.label, panel.thickness, span, height, held, moist, flooded,
        loaded, allowed, deflection, stress, material.strength, beyond,
    )  # fmt: skip


def _side(habitat: Habitat, panel: Panel, amount: Quantities) -> Iterator[PanelLoad]:
    wide, deep, high = habitat.enclosure.inside
    span = wide if panel.side in ("back", "front") else deep
    surface = surface_along(habitat, panel.side) if habitat.ground.layers else 0.0
    if surface <= 0.0:
        return
    moist, flooded = ground_pressures(amount.layers)
    size, part = (span, high), "whole"
    if panel.doors:
        sill = sill_height(habitat) if panel.side == "front" else panel.sill
        size, part = (span, sill or surface), "sill"
    yield _bent(panel, part, "ground", size, panel.held, (moist, flooded, min(surface, size[1])))


def _floor(habitat: Habitat, panel: Panel, amount: Quantities) -> PanelLoad:
    wide, deep, _ = habitat.enclosure.inside
    area = wide * deep
    standing = math.fsum(
        m for what, m in amount.load.parts if what in ("ground", "hardscape", "footings", "bowls")
    )
    over = amount.load.flooded - amount.load.total
    moist, flooded = (GRAVITY * m / area for m in (standing, standing + over))
    return _bent(panel, "whole", "weight", (wide, deep), panel.held, (moist, flooded, deep), True)


def _top(habitat: Habitat, panel: Panel) -> Iterator[PanelLoad]:
    box = habitat.enclosure
    wide, deep, high = box.inside
    cuts = sorted(
        (max(0.0, o.at[1] - o.size[1] / 2), min(deep, o.at[1] + o.size[1] / 2))
        for o in box.openings
        if o.side == "top" and o.size[0] > WIDE * wide
    )
    strips, start = [], 0.0
    for low, up in cuts:
        if low - start > 1e-3:
            strips.append((start, low))
        start = max(start, up)
    if deep - start > 1e-3:
        strips.append((start, deep))
    own = (panel.material.density or 0.0) * panel.thickness
    loads = [POINTED * lamp_mass(x) for x in habitat.lamps if on_top(x, high)]
    at = [x.at[1] for x in habitat.lamps if on_top(x, high)]
    for o in box.openings:
        if o.side == "top" and o.cover.sheet is not None:
            loads.append(o.size[0] * o.size[1] * SHEET * (o.cover.sheet.density or 0.0))
            at.append(o.at[1])
    borne = [0.0] * len(strips)
    for mass, y in zip(loads, at, strict=True):
        nearest = min(
            range(len(strips)), key=lambda i: max(strips[i][0] - y, y - strips[i][1], 0.0)
        )
        borne[nearest] += mass
    for (low, up), mass in zip(strips, borne, strict=True):
        part, held = "whole", panel.held
        if cuts and held != "everywhere":
            ends = low <= 1e-9, up >= deep - 1e-9
            part = "front strip" if ends[0] else "back strip" if ends[1] else "strip"
            held = "three" if any(ends) and held in ("four", "three") else "two"
        elif cuts:
            part = "front strip" if low <= 1e-9 else "back strip" if up >= deep - 1e-9 else "strip"
        pressure = GRAVITY * (own + mass / (wide * (up - low)))
        yield _bent(panel, part, "weight", (wide, up - low), held,
                    (pressure, pressure, up - low), True)  # fmt: skip
