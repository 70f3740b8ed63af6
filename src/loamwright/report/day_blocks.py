"""A typical day cut into tables: the places by the hour, and the sums of the day."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence

import numpy as np

from loamwright.engine.climate import sums
from loamwright.engine.climate.results import ClimateRun
from loamwright.habitat.enclosure import PANELS
from loamwright.habitat.habitat import Habitat
from loamwright.habitat.sites import Site
from loamwright.report import quantities
from loamwright.report.blocks import Table
from loamwright.report.plain import clean

HOURS: tuple[int, ...] = (0, 4, 8, 10, 12, 14, 16, 18, 20, 22)
"""Hours shown in the terminal: as many as fit 80 columns, closer together by day."""

UNLIVED = ("probe", "crown")
"""Roles of places where no animal rests."""

SEASONS: dict[str, str] = {
    "winter": "a typical winter day",
    "middle": "a typical day between winter and summer",
    "summer": "a typical summer day",
}

WAYS: dict[str, str] = {
    "mist": "sprayed by the nozzles",
    "bowls": "dried from bowls",
    "soil": "dried from the ground",
    "leaves": "given off by leaves",
    "soaked": "run into the ground",
    "vented": "left with the air",
}
"""Ways of water, as the ledger of a run names them: the first four come in, the last two go out."""

CONDENSED = "condensed into bowls"
"""What `WAYS` calls dried from bowls, where it goes the other way."""

PUMP = "mist pump"


def season_words(season: str) -> str:
    """A season's day in words."""
    return SEASONS.get(season, clean(season))


def user_words(user: str) -> str:
    """Who uses electricity: a lamp's or fan's name, or the pump."""
    return PUMP if user == "pump" else clean(user, 40)


def lived(site: Site) -> bool:
    """True where an animal may rest, so that what its body takes there means something."""
    return site.role not in UNLIVED


def row_at(run: ClimateRun, hour: float) -> int:
    """The row nearest to an hour since the run began."""
    return int(np.abs(run.hours - hour).argmin())


def species_labels(habitat: Habitat, run: ClimateRun) -> dict[str, str]:
    """Species with an operative temperature in the run, key to label."""
    known = {g.species.key: g.species.label for g in habitat.animals}
    return {key: clean(known.get(key, key)) for key in run.operative}


def hours_table(
    habitat: Habitat, run: ClimateRun, system: str, hours: Sequence[int] = HOURS
) -> Table:
    """Air and humidity of the room and at each place, and where there are any its surface and the
    operative temperature of each species, at some hours."""
    rows_at = [row_at(run, h) for h in hours]
    degree = quantities.unit("temperature", system)
    labels = species_labels(habitat, run)
    blank = ("",) * len(hours)
    rows: list[tuple[str, ...]] = []

    def add(words: str, values: object, quantity: str) -> None:
        column = np.asarray(values, float)[rows_at]
        if np.isfinite(column).any():
            rows.append((f"  {words}", *(_cell(quantity, float(v), system) for v in column)))

    rows.append(("room", *blank))
    add(f"air {degree}", run.room, "temperature")
    add("RH %", run.room_humidity, "humidity")
    for number, site in enumerate(habitat.sites):
        name = clean(site.name, 34)
        rows.append((name if site.role in name else f"{name} ({site.role})", *blank))
        add(f"air {degree}", run.air[:, number], "temperature")
        add("RH %", run.humidity[:, number], "humidity")
        add(f"surface {degree}", run.surface[:, number], "temperature")
        if not lived(site):
            continue
        for place, key in enumerate(labels, 1):
            if not site.species or key in site.species:
                which = f" {place}" if len(labels) > 1 else ""
                add(f"body{which} {degree}", run.operative[key][:, number], "temperature")
    return Table(
        f"{clean(habitat.name)}: {season_words(run.season)}",
        ("hour", *(f"{h:02d}" for h in hours)),
        tuple(rows),
        right=frozenset(range(1, len(hours) + 1)),
        note=_note(labels),
        tight=True,
    )


def _note(labels: Mapping[str, str]) -> str:
    if not labels:
        return ""
    names = list(labels.values())
    who = names[0] if len(names) == 1 else "; ".join(f"{i} {n}" for i, n in enumerate(names, 1))
    return f"body: operative temperature, what a resting animal would take there ({who})"


def _cell(quantity: str, value: float, system: str) -> str:
    if not math.isfinite(value):
        return "–"
    if quantity == "humidity":
        return f"{100 * value:.0f}"
    number = quantities.shown(quantity, value, system)
    # Degrees Fahrenheit are fine enough whole, and three digits of them still fit the line.
    return f"{number:.0f}" if system == "us" else f"{number:.1f}"


def electricity_table(habitat: Habitat, run: ClimateRun) -> Table:
    """Electricity of the day by what uses it, largest first, with its cost where that is known."""
    price = habitat.money.electricity if habitat.money else None
    heads = ["electricity a day", "kWh"]
    if price is not None and habitat.money:
        heads.append(clean(habitat.money.currency, 5))
    entries = sorted(run.energy.items(), key=lambda e: -e[1])
    entries = [(user_words(u), e) for u, e in entries if e > 0.0]
    rows = []
    for name, energy in [*entries, ("together", run.electricity)]:
        row = [name, f"{quantities.shown('energy', energy, 'metric'):.2f}"]
        if price is not None:
            row.append(f"{price * energy:.2f}")
        rows.append(tuple(row))
    return Table("", tuple(heads), tuple(rows), right=frozenset(range(1, len(heads))))


def ways_of_water(run: ClimateRun) -> list[tuple[str, float]]:
    """Ways of water in words with what went each way [kg], those of less than half a gram left out."""
    out = []
    for way, words in WAYS.items():
        mass = run.water.get(way, 0.0)
        if abs(mass) >= 5e-4:
            out.append((CONDENSED if way == "bowls" and mass < 0.0 else words, abs(mass)))
    return out


def water_table(habitat: Habitat, run: ClimateRun, system: str) -> Table:
    """Water of the day by where it comes from and goes, and how long the tank lasts."""
    rows = [(words, quantities.water(mass, system)) for words, mass in ways_of_water(run)]
    lasts = sums.tank_time(habitat, run)
    if habitat.mist is not None and lasts is not None:
        full = quantities.water(1000.0 * habitat.mist.tank, system)
        told = "for ever: nothing is sprayed" if math.isinf(lasts) else quantities.duration(lasts)
        rows.append((f"a full tank ({full}) lasts", told))
    return Table("", ("water a day", ""), tuple(rows), right=frozenset({1}))


def air_table(habitat: Habitat, run: ClimateRun) -> Table:
    """Air changes, wet panels, and what is missing from the balances."""
    changes = quantities.shown("air_changes", 1.0, "metric") * sums.changes(run)
    rows = [
        ("air changes an hour", f"{_plain(changes.min())} least, {_plain(changes.mean())} mean, "
         f"{_plain(changes.max())} most")
    ]  # fmt: skip
    for side in PANELS:
        wet = sums.wet_time(run, side)
        if wet is not None and wet >= 60.0:
            rows.append((f"{side} panel wet", quantities.duration(wet)))
    if len(rows) == 1:
        rows.append(("wet panels", "none"))
    for what, share in zip(("heat", "water"), run.balance, strict=True):
        rows.append((f"{what} missing from its balance", _missing(share)))
    return Table("", ("air and panels", ""), tuple(rows))


def _missing(share: float) -> str:
    return "less than 0.001 %" if abs(share) < 1e-5 else f"{100 * abs(share):.2g} %"


def _plain(value: float) -> str:
    return quantities.number("air_changes", float(value))


def day_tables(habitat: Habitat, run: ClimateRun, system: str) -> list[Table]:
    """Everything the terminal shows of a day."""
    return [
        hours_table(habitat, run, system),
        electricity_table(habitat, run),
        water_table(habitat, run, system),
        air_table(habitat, run),
    ]
