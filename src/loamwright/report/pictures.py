"""The pictures of a habitat's overview, each with the name of its file."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from typing import TYPE_CHECKING

from loamwright.engine.climate.results import ClimateRun
from loamwright.habitat.habitat import Habitat
from loamwright.report.blocks import SiteValues
from loamwright.report.day_blocks import season_words
from loamwright.report.overview import Picture
from loamwright.report.plain import capital

if TYPE_CHECKING:
    from loamwright.engine.light.model import LightModel

Note = Callable[[str], None]
Named = list[tuple[str, Picture]]

SPACING = 0.025
"""Distance between computed points of a section [m]."""

NEAR = 0.35
"""Sites up to this far [m] from a section are named in its picture."""

LIGHT = (("uvi", "brightest", "UV index"), ("ppfd", "up", "plant light (PPFD)"))

LIGHT_NAMES = tuple(f"{quantity}-{axis}.png" for quantity, _, _ in LIGHT for axis in "yxz")


def _cuts(habitat: Habitat) -> list[tuple[str, float, str]]:
    """Where the overview cuts: lengthwise and crosswise through the first basking place (or the
    middle), and level at its height."""
    from loamwright.engine.lower import air_box

    low, high = air_box(habitat)
    basking = [s for s in habitat.sites if s.role == "basking"]
    centre = basking[0].at if basking else tuple((low + high) / 2)
    margin = 0.03
    y = min(max(centre[1], low[1] + margin), high[1] - margin)
    z = min(max(centre[2], low[2] + margin), high[2] - margin)
    return [
        ("y", float(y), "Lengthwise, seen from the front"),
        ("x", float(centre[0]), "Crosswise, seen from the right"),
        ("z", float(z), "Level, seen from above"),
    ]


def light_pictures(
    habitat: Habitat, model: LightModel, sites: Sequence[SiteValues], system: str, note: Note,
    kind: str = "png", printed: bool = False,
) -> Named:  # fmt: skip
    """Ultraviolet and plant light through the habitat, all cuts of one in one scale of colours;
    ``kind`` of the files ``png`` or ``svg``, ``printed`` in the size in which they are printed."""
    from loamwright.engine.light.fields import section
    from loamwright.report.sections import section_bytes

    wanted = {quantity: facing for quantity, facing, _ in LIGHT}
    cuts = []
    for axis, position, words in _cuts(habitat):
        note(f"drawing a section ({words.lower()})")
        field = section(habitat, model, axis, position, SPACING, wanted)
        cuts.append((axis, position, words, field))
    out: Named = []
    for quantity, facing, label in LIGHT:
        most = max(float(field[quantity].max()) for *_, field in cuts)
        for axis, position, words, field in cuts:
            number = "xyz".index(axis)
            near = [s for s in sites if abs(s.at[number] - position) <= NEAR]
            content = section_bytes(
                habitat, field, quantity, kind, axis=axis, position=position, sites=near,
                system=system, facing=facing, most=most, printed=printed,
            )  # fmt: skip
            caption = f"{words}: {label}"
            lead = (quantity, axis) == ("uvi", "y")
            picture = Picture(content, kind, caption, caption, lead)
            out.append((f"{quantity}-{axis}.{kind}", picture))
    return out


def day_names(seasons: Sequence[str]) -> list[str]:
    """Files `day_pictures` makes for these seasons."""
    if not seasons:
        return []
    days = [f"day-{season}.png" for season in seasons]
    air = [f"air-{season}.png" for season in seasons]
    return [*days, "sums.png", *air, f"humidity-{seasons[0]}.png"]


def day_pictures(
    habitat: Habitat, runs: Mapping[str, ClimateRun], system: str, note: Note, kind: str = "png",
    printed: bool = False,
) -> Named:  # fmt: skip
    """The days' charts and sums, and sections of the air in the middle of the day: temperature in one
    scale for all seasons, humidity in the first of them; ``kind`` of the files ``png`` or ``svg``,
    sections ``printed`` in the size in which they are printed."""
    from loamwright.report import climate_charts, climate_sections

    if not runs:
        return []
    seasons, out = list(runs), []
    for season, run in runs.items():
        note(f"drawing {season_words(season)}")
        words = capital(season_words(season))
        caption = f"{words}: temperatures, humidity, and what runs when"
        content = climate_charts.day_chart(habitat, run, kind, system=system)
        lead = season == seasons[0]
        out.append((f"day-{season}.{kind}", Picture(content, kind, caption, caption, lead)))
    content = climate_charts.sums_chart(habitat, list(runs.values()), kind, system=system)
    caption = "Electricity and water of the days"
    out.append((f"sums.{kind}", Picture(content, kind, caption, caption)))
    hours = {season: middle_hour(habitat, season) for season in seasons}
    spans = [climate_sections.shared_span([runs[s]], "air_temperature", hours[s]) for s in seasons]
    span = (min(low for low, _ in spans), max(high for _, high in spans))
    for season, quantity, name, ends in (
        *((s, "air_temperature", "air", span) for s in seasons),
        (seasons[0], "humidity", "humidity", None),
    ):
        note(f"drawing the air ({season})")
        content = climate_sections.climate_section_bytes(
            habitat,
            runs[season],
            hours[season],
            quantity,
            kind,
            span=ends,
            system=system,
            printed=printed,
        )
        what = "Air temperature" if quantity == "air_temperature" else "Relative humidity"
        caption = f"{what} in the middle of {season_words(season)}, seen from the front"
        out.append((f"{name}-{season}.{kind}", Picture(content, kind, caption, caption)))
    return out


def middle_hour(habitat: Habitat, season: str) -> float:
    """The full hour in the middle of the day's hours."""
    start, end = (t / 3600.0 for t in habitat.schedule.hours(season))
    return float(round(start + ((end - start) % 24.0 or 24.0) / 2.0) % 24)
