"""A day's curves, sums and drills as the Day page shows them."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any

import numpy as np

from loamwright.engine.climate.results import ClimateRun
from loamwright.habitat.habitat import Habitat
from loamwright.habitat.sites import Site
from loamwright.physics.ferguson import ZONES
from loamwright.report import climate_bands, quantities
from loamwright.report.climate_bands import Band
from loamwright.report.day_blocks import lived, season_words, user_words, ways_of_water
from loamwright.report.plain import capital, clean, listing

MOST_SITES = 3
"""Places shown at once in charts of light and humidity, where each is one line."""

LOOKS = {"surface": ("c0", ""), "air": ("c1", "d1"), "body": ("c2", "d2"), "room": ("cr", "dr")}
SITE_LOOKS = (("c0", ""), ("c1", "d1"), ("c2", "d2"), ("c3", "d3"), ("c4", "d4"))


def charts(
    habitat: Habitat, run: ClimateRun, names: Sequence[str], light: Mapping[str, Any] | None,
    system: str,
) -> list[dict[str, Any]]:  # fmt: skip
    """A chart of temperatures for each place, then humidity, UV index and plant light of all."""
    sites = [s for s in habitat.sites if s.name in names]
    out = [_temperatures(habitat, run, s, system) for s in sites]
    out.append(_humidity(habitat, run, sites))
    if light is not None:
        out.append(_light(habitat, run, sites, light, "uvi", "UV index", "", 2))
        out.append(_light(habitat, run, sites, light, "ppfd", "Plant light, facing up",
                          quantities.unit("ppfd", system), 0))  # fmt: skip
    return [c for c in out if c["lines"]]


def nights(run: ClimateRun) -> list[list[float]]:
    """Stretches outside the day's hours [h]."""
    return _spans(run, climate_bands.NIGHT)


def _spans(run: ClimateRun, when: str) -> list[list[float]]:
    rows = climate_bands.rows_of(run, when)
    edges = np.flatnonzero(np.diff(np.concatenate([[0], rows.astype(int), [0]])))
    last = len(run.hours) - 1
    return [
        [float(run.hours[a]), float(run.hours[min(b, last)])]
        for a, b in zip(edges[::2], edges[1::2], strict=True)
    ]


def _numbers(values: Any) -> list[float | None]:
    return [round(float(v), 3) if np.isfinite(v) else None for v in values]


def _line(name: str, values: Any, look: tuple[str, str]) -> dict[str, Any]:
    return {"name": clean(name, 24), "values": _numbers(values), "look": look[0], "dash": look[1]}


def _temperatures(habitat: Habitat, run: ClimateRun, site: Site, system: str) -> dict[str, Any]:
    n = run.site(site.name)

    def shown(values: Any) -> Any:
        return np.asarray(quantities.shown("temperature", values, system), float)

    lines = []
    if lived(site):
        for key, table in run.operative.items():
            if not site.species or key in site.species:
                label = next(
                    (g.species.label for g in habitat.animals if g.species.key == key), key
                )
                name = "body" if len(run.operative) == 1 else f"body {label}"
                lines.append(_line(name, shown(table[:, n]), LOOKS["body"]))
    if np.isfinite(run.surface[:, n]).any():
        lines.append(_line("surface", shown(run.surface[:, n]), LOOKS["surface"]))
    lines.append(_line("air", shown(run.air[:, n]), LOOKS["air"]))
    lines.append(_line("room", shown(run.room), LOOKS["room"]))
    bands = climate_bands.temperature_bands(habitat, site)
    role = "" if site.role in site.name else f" ({site.role})"
    unit = quantities.unit("temperature", system)
    return _chart(f"t-{n}", f"{clean(site.name, 40)}{role}: temperature [{unit}]", unit, 1, lines,
                  run, bands, shown, system)  # fmt: skip


def _humidity(habitat: Habitat, run: ClimateRun, sites: Sequence[Site]) -> dict[str, Any]:
    lines = [
        _line(s.name, 100 * run.humidity[:, run.site(s.name)], SITE_LOOKS[i % 5])
        for i, s in enumerate(sites)
    ]
    lines.append(_line("room", 100 * run.room_humidity, LOOKS["room"]))
    bands = list(dict.fromkeys(b for s in sites for b in climate_bands.humidity_bands(habitat, s)))
    out = _chart(
        "rh", "Relative humidity [%]", "%", 0, lines, run, bands, lambda v: 100 * v, "metric"
    )
    out["range"] = [0.0, 100.0]
    return out


def _chart(
    key: str, title: str, unit: str, digits: int, lines: list[dict[str, Any]], run: ClimateRun,
    bands: Sequence[Band], shown: Any, system: str,
) -> dict[str, Any]:  # fmt: skip
    drawn: list[dict[str, Any]] = []
    words: list[str] = []
    several = len({b.whose for b in bands}) > 1
    for band in bands:
        low, high = (None if x is None else float(shown(x)) for x in band.limits)
        look = LOOKS.get(band.what, ("c2", ""))[0]
        drawn.append({"low": low, "high": high, "look": look, "spans": _spans(run, band.when)})
        words.append(band.words(system, named=several))
    values = _known(lines)
    ends = [v for b in drawn for v in (b["low"], b["high"]) if v is not None]
    return {
        "key": key, "title": title, "unit": unit, "digits": digits, "lines": lines, "bands": drawn,
        "range": _range(values, ends), "bandwords": f"Shaded: {'; '.join(words)}." if words else "",
    }  # fmt: skip


def _known(lines: Sequence[dict[str, Any]]) -> list[float]:
    return [float(v) for line in lines for v in line["values"] if v is not None]


def _range(values: Sequence[float], ends: Sequence[float]) -> list[float]:
    low, high = min([*values, *ends], default=0.0), max([*values, *ends], default=1.0)
    room = 0.06 * max(high - low, 1e-3)
    return [low - room, high + room]


def _light(
    habitat: Habitat, run: ClimateRun, sites: Sequence[Site], light: Mapping[str, Any],
    quantity: str, title: str, unit: str, digits: int,
) -> dict[str, Any]:  # fmt: skip
    table = np.asarray(light[quantity])
    lines = [
        _line(s.name, table[:, run.site(s.name)], SITE_LOOKS[i % 5]) for i, s in enumerate(sites)
    ]
    bands: list[dict[str, Any]] = []
    words: list[str] = []
    if quantity == "uvi" and any(s.role == "basking" for s in sites):
        zones = {g.species.ferguson_zone: g.species for g in habitat.animals}
        for number, species in zones.items():
            if number is not None:
                low, high = ZONES[number].maximum
                bands.append({"low": low, "high": high, "look": "c0",
                              "spans": _spans(run, climate_bands.DAY)})  # fmt: skip
                words.append(f"highest UV index of {clean(species.label, 30)} where it basks, "
                             f"{low:g} to {high:g}")  # fmt: skip
    values = _known(lines)
    top = _range(values, [b["high"] for b in bands])[1]
    head = f"{title}{f' [{unit}]' if unit else ''}"
    return {
        "key": quantity, "title": head, "unit": unit, "digits": digits, "lines": lines,
        "bands": bands, "range": [0.0, max(top, 0.1)], "high": 190,
        "bandwords": f"Shaded: {'; '.join(words)}." if words else "",
    }  # fmt: skip


def cards(habitat: Habitat, run: ClimateRun, system: str) -> list[list[str]]:
    """The sums of a day: what, how much, what it means."""
    money = habitat.money
    used = quantities.worded("energy", run.electricity, system)
    out = [["electricity a day", used, ""]]
    if money is not None and money.electricity is not None:
        cost = run.electricity * money.electricity
        out[0][2] = f"{cost:.2f} {clean(money.currency, 3)} a day"
    mist = run.water.get("mist", 0.0)
    if habitat.mist is not None:
        lasts = 1000.0 * habitat.mist.tank / mist if mist > 0 else None
        out.append(["water sprayed a day", quantities.worded("water", mist, system),
                    f"the tank lasts {lasts:.0f} days" if lasts else ""])  # fmt: skip
    changes = 3600.0 * run.changes[1:]
    out.append(["air changes an hour", f"{float(changes.mean()):.1f}",
                f"from {float(changes.min()):.1f} to {float(changes.max()):.1f}"])  # fmt: skip
    low, high = (quantities.worded("temperature", float(v), system) for v in
                 (run.room.min(), run.room.max()))  # fmt: skip
    out.append(["the room", f"{low} to {high}", capital(season_words(run.season))])
    heat, water = run.balance
    out.append(["balance of the day", _missing(heat), f"of the heat, {_missing(water)} of the water, "
                "is not accounted for"])  # fmt: skip
    return out


def _missing(share: float) -> str:
    return "under 0.001 %" if abs(share) < 1e-5 else f"{100 * abs(share):.3f} %"


def bars(run: ClimateRun, system: str) -> dict[str, list[list[Any]]]:
    """Electricity by user and water by way: name, share of the largest, amount."""
    energy = sorted(((user_words(k), v) for k, v in run.energy.items() if v > 0.0036e6),
                    key=lambda e: -e[1])  # fmt: skip
    water = [(name, amount) for name, amount in ways_of_water(run) if amount > 0]

    def scaled(rows: Sequence[tuple[str, float]], quantity: str) -> list[list[Any]]:
        most = max((v for _, v in rows), default=1.0) or 1.0
        return [[n, v / most, quantities.worded(quantity, v, system)] for n, v in rows]

    return {"energy": scaled(energy, "energy"), "water": scaled(water, "water")}


def chosen(habitat: Habitat) -> list[str]:
    """Places that are shown until somebody chooses."""
    out = []
    for roles in (("basking",), ("hide", "retreat"), ("probe", "perch", "crown")):
        name = next((s.name for s in habitat.sites if s.role in roles), None)
        if name is not None:
            out.append(name)
    return out[:MOST_SITES]


def hours_words(habitat: Habitat, season: str) -> str:
    """The day's hours in words."""
    start, end = habitat.schedule.hours(season)
    return listing([f"{int(t // 3600):02d}:{int(t % 3600 // 60):02d}" for t in (start, end)], "to")
