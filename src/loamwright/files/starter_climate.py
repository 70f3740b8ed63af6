"""Fans, misting and controls of a starter file: usual ones for a dry, a mild and a damp climate."""

from __future__ import annotations

from dataclasses import dataclass

from loamwright.files.starter_living import DAMP, DRY
from loamwright.files.starter_room import Warmth
from loamwright.files.starter_ruler import Ruler
from loamwright.habitat.catalogue import Species
from loamwright.habitat.enclosure import Vec2, Vec3

FANS = (
    (0.15, "axial-40mm-12v", 0.04),
    (0.5, "axial-60mm-12v", 0.06),
    (1e9, "axial-80mm-12v", 0.08),
)
"""Up to which volume of the box [m3], the fan and its diameter [m] (common practice, no source)."""

HOTTEST = 325.15
"""Face of a basking place [K] that is not gone beyond without need: hotter ones soon burn."""

DAMP_NIGHT = 0.55
"""Humidity at night from which an evening's misting is needed [1] (common practice, no source)."""

USUAL_ROOM = 22.0
"""Room for which times of misting are chosen [degC]."""

BY_NOZZLE = 0.16
"""Air that one nozzle damps in a minute [m3] (common practice, no source)."""

MUCH = 3.0
"""Air for one nozzle over what it damps in a minute, from which an evening's misting does not last the
night and comes twice [1] (common practice, no source)."""

LEAST_MISTED = 0.5
"""Humidity by day from which a room's air needs misting in between [1] (common practice, no source)."""

EDGE = 0.02
"""What stays of a panel between a fan and its edge [m]."""


@dataclass(frozen=True, slots=True)
class Exhaust:
    """A fan in the right side, high up, that blows out."""

    key: str
    at: Vec2


@dataclass(frozen=True, slots=True)
class Climate:
    """What keeps the air: ``damp`` the humidities a fan goes on above and off below, ``low`` those
    mist comes below and ends above, in pulses of ``pulse`` seconds, ``heat`` the temperature the
    basking place is held at [K]."""

    fan: Exhaust | None = None
    nozzles: tuple[Vec3, ...] = ()
    mistings: tuple[tuple[str, str], ...] = ()
    damp: tuple[float, float] | None = None
    low: tuple[float, float] | None = None
    heat: float | None = None
    pulse: int = 8


def climate_for(
    species: Species, climate: str, inside: Vec3, *, basks: bool, room: float
) -> Climate:
    """Fans, nozzles and limits for an animal in a box [m] in a room of a temperature [degC] (common
    practice, no source). Cool air takes up less water, so it is misted for a shorter time."""
    w, d, h = inside
    given = [t for t in species.basking_surface if t is not None]
    heat = max(min(sum(given) / len(given), HOTTEST), given[0]) if basks and given else None
    if climate == DRY:
        return Climate(heat=heat)
    low, high = species.humidity_day
    mist = None if low is None or low < LEAST_MISTED else (low, low + 0.08)
    count = 1 if w < 0.7 else 2 if w < 1.4 else 3
    nozzles = tuple((w * (i + 1) / (count + 1), 0.45 * d, h - 0.03) for i in range(count))
    dries = min(2.0 ** ((room - USUAL_ROOM) / 10.0), 1.0)
    pulse = max(2, round(8.0 * dries))
    times = [("07:30", f"{max(5, round((30 if climate == DAMP else 20) * dries))} s")]
    if (species.humidity_night[0] or 0.0) >= DAMP_NIGHT:
        share = w * d * h / count / BY_NOZZLE
        lasts = f"{5 * round(12.0 * min(max(share, 0.5), 2.0) * dries)} s"
        times.append(("19:30", lasts))
        if share > MUCH:
            times.append(("00:30", lasts))
    if climate != DAMP:
        return Climate(None, nozzles, tuple(times), None, mist, heat, pulse)
    key, size = next((key, size) for most, key, size in FANS if w * d * h <= most)
    fan = Exhaust(key, (0.75 * d, h - size / 2 - EDGE))
    on = min((high or 0.9) + 0.05, 0.95)
    off = max(on - 0.1, mist[1] if mist else 0.0)
    return Climate(fan, nozzles, tuple(times), (on, min(off, on - 0.02)), mist, heat, pulse)


def air_lines(made: Climate, ruler: Ruler, guard: str) -> list[str]:
    """The section of the fans."""
    if made.fan is None:
        return [
            "# Fans: loamwright list fans. None is needed here: warm air leaves at the top, fresh air",
            "# comes in low. One would be, for example:",
            "# - {name: exhaust, fan: axial-60mm-12v, panel: right, at: "
            + ("[10 in, 12 in]" if ruler.system == "us" else "[25 cm, 30 cm]")
            + ", flow: out, speed: 50 %}",
            "air: []",
        ]
    return [
        "# Fans: loamwright list fans. This one draws out the air where it stays too damp; fresh air",
        "# comes in low at the front. 'at' is measured on the panel: [y, z] for left and right.",
        "air:",
        f"  - {{name: exhaust, fan: {made.fan.key}, panel: right, at: {ruler.point(made.fan.at)}, "
        f"flow: out, speed: 60 %, guard: {guard}, control: damp}}",
    ]


TANKS = {
    "metric": ("L", 1e-3, (1, 1.5, 2, 3, 4, 5, 6, 8, 10)),
    "us": ("gal_us", 3.785411784e-3, (0.25, 0.5, 0.75, 1, 1.25, 1.5, 2, 2.5)),
}
"""Tanks of a starter: unit, its size [m3], how many."""


def tank_for(drainage: float, system: str) -> str:
    """The largest tank whose water the drainage's pores, so much [m3], hold should a valve stick."""
    unit, size, sold = TANKS[system]
    fits = [n for n in sold if n * size <= 0.8 * drainage]
    return f"{max(fits, default=sold[0]):g} {unit}"


def mist_lines(made: Climate, ruler: Ruler, aim: Vec2, drainage: float) -> list[str]:
    """The section of the misting; ``aim`` y and z of the line on the ground that nozzles face,
    ``drainage`` the volume of the drainage [m3]."""
    if not made.nozzles:
        return [
            "# Misting: a tank, nozzles and times. None here: what lives here likes it dry.",
            "mist:",
        ]
    lines = [
        "# Misting: loamwright list nozzles. All nozzles run together, from one tank; they face back,",
        "# so that the front panes stay clear.",
        "mist:",
        # No more than the drainage holds, should the valve stick.
        f"  tank: {tank_for(drainage, ruler.system)}",
        f"  water_temperature: {ruler.degrees(20)}",
        "  pump: 20 W",
        "  nozzles:",
    ]
    for i, at in enumerate(made.nozzles):
        lines.append(
            f"    - {{name: nozzle {i + 1}, type: fine-nozzle, at: {ruler.point(at)}, "
            f"aim: {ruler.point((at[0], *aim))}}}"
        )
    times = ", ".join(f'{{at: "{at}", for: {last}}}' for at, last in made.mistings)
    lines.append(f"  times: [{times}]")
    if made.low is not None:
        lines.append("  control: dry          # and in between, when it gets too dry")
    return lines


def control_lines(made: Climate, ruler: Ruler, warmth: Warmth | None) -> list[str]:
    """The section of the controls."""
    us = ruler.system == "us"
    entries = []
    if made.heat is not None:
        entries.append(
            f"  basking: {{kind: dimming-thermostat, probe: basking, set: "
            f"{ruler.degrees(round(made.heat - 273.15, 1))}, band: {'4 degF_diff' if us else '2 K'}, "
            "night: off}"
        )
    if warmth is not None:
        day, night = (
            f"on_below: {ruler.degrees(low)}, off_above: {ruler.degrees(high)}"
            for low, high in (warmth.day, warmth.night)
        )
        entries.append(
            f"  warmth: {{kind: thermostat, probe: mid air, {day}, night: {{{night}}}, "
            f"cut_out: {ruler.degrees(warmth.cut_out)}}}"
        )
    if made.damp is not None:
        entries.append(
            f"  damp: {{kind: humidistat, probe: mid air, on_above: {_percent(made.damp[0])}, "
            f"off_below: {_percent(made.damp[1])}, night: {{on_above: 98 %, off_below: 92 %}}}}"
        )
    if made.low is not None:
        entries.append(
            f"  dry: {{kind: pulse-mist, probe: mid air, on_below: {_percent(made.low[0])}, "
            f"off_above: {_percent(made.low[1])}, pulse: {made.pulse} s, pause: 15 min, night: off}}"
        )
    head = (
        "# Controls by name, each with a site for its probe; what one drives names it as 'control'."
    )
    return [head, "controls:" if entries else "controls: {}", *entries]


def _percent(share: float) -> str:
    return f"{share * 100:.0f} %"
