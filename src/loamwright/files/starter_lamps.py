"""Lamps of a starter file: what hangs where, from the animal's needs and the lamps' own numbers.

Closed forms on a lamp's axis are enough for a first design; `check` then computes the light in full.
"""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass

from loamwright.engine.light.ahead import value_ahead
from loamwright.habitat.catalogue import Cover, LampType, Species
from loamwright.physics.ferguson import ZONES
from loamwright.physics.mesh_screen import screen_transmittance

AIM = 0.46
"""Where in a zone's band the basking place is put: a little below its middle, as places nearer to
the lamp get more."""

CLASSES = {
    1: ("weak", "medium", "strong"),
    2: ("medium", "weak", "strong"),
    3: ("strong", "medium", "weak"),
    4: ("strong", "medium", "weak"),
}
"""Classes of ultraviolet tubes by Ferguson zone, the likeliest first."""

FLOODS = ("halogen-flood-35w", "halogen-flood-50w", "halogen-flood-75w", "halogen-flood-100w")
BARS = ("led-bar-20w", "led-bar-40w", "led-bar-60w")

WATTS_PER_M2 = 180.0
"""White LED power for plants per floor area of a low box [W/m2] (common practice, no source)."""

MOST_BARS = 40


@dataclass(frozen=True, slots=True)
class Tube:
    """The ultraviolet lamp: a lamp's key, ``distance`` to the basking place [m], whether it lies
    ``above`` the window in the top."""

    key: str
    distance: float
    above: bool


def zone_of(species: Species) -> tuple[int, bool]:
    """The animal's Ferguson zone, and whether it is known; else a guess from where it basks."""
    if species.ferguson_zone is not None:
        return species.ferguson_zone, True
    given = [t for t in species.basking_surface if t is not None]
    hottest = max(given, default=0.0) - 273.15
    by_day = "diurnal" in species.activity or "cathemeral" in species.activity
    if not by_day or hottest < 29.0:
        return 1, False
    return (3 if hottest >= 42.0 else 2), False


def wanted_uvi(zone: int) -> float:
    """The UV index meant for the basking place."""
    low, high = ZONES[zone].maximum
    return low + AIM * (high - low)


def passes(cover: Cover) -> float:
    """Share of a lamp's light that comes through a mesh on its slanting ways (a little less than
    square on)."""
    return float(screen_transmittance(1.0, cover.pitch, cover.wire) ** 1.2)


def distance_for(lamp: LampType, uvi: float) -> float:
    """Distance at which a lamp gives a UV index [m], by halving."""
    near, far = max(0.02, 0.51 * lamp.diameter), 20.0
    for _ in range(60):
        middle = math.sqrt(near * far)
        brighter = value_ahead(lamp, "uvi", middle) > uvi
        near, far = (middle, far) if brighter else (near, middle)
    return near


def _candidates(lamps: Mapping[str, LampType], zone: int, width: float) -> list[str]:
    """Ultraviolet lamps that fit the width, the likeliest first: by class, then the longest."""
    found = []
    for rank, strength in enumerate(CLASSES[zone]):
        for key, lamp in lamps.items():
            if lamp.shape == "tube" and f"-uvb-{strength}-" in key and lamp.length <= width - 0.02:
                order = (rank, key.startswith("t8"), -lamp.length, not key.endswith("reflector"))
                found.append((order, key))
    short = [k for k, x in lamps.items() if x.shape == "tube" and k.startswith("compact-uvb")]
    return [key for _, key in sorted(found)] + short


def choose_tube(
    lamps: Mapping[str, LampType],
    zone: int,
    width: float,
    spans: Mapping[bool, tuple[float, float]],
    share: Mapping[bool, float],
) -> Tube:
    """The first lamp whose right distance can be had.

    ``spans`` gives the distances [m] that can be had above the window (True) and hung inside
    (False), the better way first; ``share`` what the mesh or guard lets through there.
    """
    target = wanted_uvi(zone)
    keys = _candidates(lamps, zone, width)
    best: tuple[float, Tube] | None = None
    for above, (near, far) in spans.items():
        for key in keys:
            lamp = lamps[key]
            right = distance_for(lamp, target / share[above])
            least = (lamp.min_distance or 0.0) + 0.02
            if max(near, least) <= right <= far:
                return Tube(key, right, above)
            distance = min(max(right, near, least), max(far, near))
            off = abs(math.log(right / distance)) + (5.0 if distance < least else 0.0)
            if best is None or off < best[0]:
                best = (off, Tube(key, distance, above))
    assert best is not None
    return best[1]


def wanted_heat(species: Species) -> float:
    """Radiant heat meant for the basking place [W/m2], 0 for animals that do not bask (common
    practice, no source: a warm day's sun is about 1000)."""
    given = [t - 273.15 for t in species.basking_surface if t is not None]
    if not given:
        return 0.0
    return min(max(250.0 + 25.0 * (max(given) - 28.0), 200.0), 850.0)


def choose_flood(
    lamps: Mapping[str, LampType], heat: float, distance: float, share: float
) -> tuple[str, float]:
    """A halogen flood that heats a place at a distance [m], and the share it is dimmed to."""
    fitting = [k for k in FLOODS if (lamps[k].min_distance or 0.0) + 0.02 <= distance]
    best = fitting[0] if fitting else FLOODS[0]
    for key in fitting:
        best = key
        if value_ahead(lamps[key], "radiant", distance) * share >= heat:
            break
    full = value_ahead(lamps[best], "radiant", distance) * share
    return best, min(1.0, max(0.2, round(heat / full * 20) / 20))


@dataclass(frozen=True, slots=True)
class Bars:
    """Plant lights: a lamp's key, how many side by side along the width and from front to back,
    and the share they are dimmed to."""

    key: str
    columns: int
    rows: int
    dim: float


def choose_bars(
    lamps: Mapping[str, LampType], width: float, depth: float, height: float, share: float
) -> Bars:
    """White LED bars for a floor area [m2]; a tall box needs more, as light is lost on its way."""
    fitting = [k for k in BARS if lamps[k].length <= width - 0.02]
    key = fitting[-1] if fitting else BARS[0]
    lamp = lamps[key]
    columns = max(1, int((width - 0.02) / lamp.length))
    watts = WATTS_PER_M2 * width * depth * (1.0 + 0.5 * max(0.0, height - 0.6)) / share
    rows = max(2, math.ceil(watts / (columns * lamp.power)))
    rows = max(2, min(rows, MOST_BARS // columns))
    dim = watts / (rows * columns * lamp.power)
    return Bars(key, columns, rows, min(1.0, max(0.2, math.ceil(dim * 20) / 20)))
