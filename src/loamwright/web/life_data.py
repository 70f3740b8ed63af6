"""What animals can choose from, where they climb, and the room they have, as the page draws them."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING, Any

import numpy as np

from loamwright.report import quantities
from loamwright.report.choice_blocks import choice_tables, way_tables
from loamwright.report.climate_words import SEASONS
from loamwright.report.plain import capital, clean
from loamwright.report.terminal import SYMBOLS
from loamwright.report.words import STATES, source_words
from loamwright.web.tables import shown

if TYPE_CHECKING:
    from loamwright.engine.findings import Finding
    from loamwright.engine.life.choice import Choice
    from loamwright.engine.life.climb_map import ClimbMap
    from loamwright.engine.life.space import Asked, Box
    from loamwright.engine.life.study import Residents
    from loamwright.habitat.habitat import Habitat

WARMTH = "operative_temperature"

FIGURES = {
    "space-floor": "floor", "space-sides": "sides", "space-height": "height",
    "space-pool": "open water", "pool-depth": "depth of water",
}  # fmt: skip
"""What a standard's figures are of, by the need that holds it."""


# -- what they can choose from -------------------------------------------------------------------------


def choice(one: Residents, season: str, habitat: Habitat, system: str) -> dict[str, Any]:
    """The choice chart of a species on a season's typical day: for each place and hour the warmth a
    body takes and the UV index, the bands, the ends of both axes, and shares of the day."""
    seasons = [[s, SEASONS.get(s, s)] for s in one.choices]
    found = one.choices.get(season) or next(iter(one.choices.values()), None)
    base = {"species": clean(one.species.label, 60), "seasons": seasons, "season": season}
    if found is None:
        why = "how long this species is, and so how far it reaches, is not known; give its length " \
              "in the file, under animals" if one.climb is None else \
              "no place of this habitat is within its reach"  # fmt: skip
        return {**base, "why": f"There is no choice to draw: {why}.", "sites": [], "tables": []}
    warm = None
    if found.operative is not None:
        warm = quantities.shown_all(WARMTH, found.operative, system)
    sites = [
        {
            "name": clean(name, 40), "short": clean(name, 18), "role": found.roles[i],
            "uvi": [round(float(v), 2) for v in found.uvi[:, i]],
            "warm": None if warm is None else [round(float(v), 1) for v in warm[:, i]],
            "damp": [round(100 * float(v)) for v in found.humidity[:, i]],
        }
        for i, name in enumerate(found.sites)
    ]  # fmt: skip
    body = [None if v is None else round(quantities.shown(WARMTH, v, system), 1)
            for v in found.body_band]  # fmt: skip
    tables = [shown(t, habitat) for t in choice_tables(one, system)[:1]]
    return {
        **base, "season": found.season, "why": "", "sites": sites, "day": found.day.tolist(),
        "unit": quantities.unit(WARMTH, system), "body": body, "uvi": list(found.uvi_band),
        "range": _range(found, body, warm), "bands": _bands(found, body, system), "tables": tables,
    }  # fmt: skip


def _range(found: Choice, body: list[float | None], warm: Any) -> dict[str, list[float]]:
    """Ends of the axes, the same at every hour."""
    ends = [v for v in body if v is not None]
    values = [] if warm is None else [float(np.nanmin(warm)), float(np.nanmax(warm))]
    low, high = min([*values, *ends], default=0.0), max([*values, *ends], default=1.0)
    room = 0.06 * (high - low) + 0.5
    most = max([1.0, float(found.uvi.max(initial=0.0)),
                *(v for v in found.uvi_band if v is not None)])  # fmt: skip
    return {"warm": [low - room, high + room], "uvi": [0.0, 1.12 * most]}


def _bands(found: Choice, body: list[float | None], system: str) -> list[str]:
    """The bands in words, with where they come from."""
    unit = quantities.unit(WARMTH, system)
    low, high = (f"{v:g} {unit}" if v is not None else "" for v in body)
    out = [f"Body warmth it prefers: {quantities.band(low, high)}." if low or high else
           "Which body warmth it prefers is not known: no source was found, so no band is drawn and "
           "no share of the day can be told."]  # fmt: skip
    low, high = (f"{v:g}" if v is not None else "" for v in found.uvi_band)
    source = "" if found.uvi_source is None else f" ({source_words(found.uvi_source, system)})"
    told = "Which UV index it seeks is not known."
    if low or high:
        told = f"UV index it seeks where it basks: {quantities.band(low, high)}{source}."
    out.append(told)
    return out


# -- where they climb ----------------------------------------------------------------------------------


def climb(one: Residents, graph: ClimbMap | None, habitat: Habitat, system: str) -> dict[str, Any]:
    """The climbing graph for the scene, and what it says in words and tables."""
    if graph is None or one.climb is None:
        why = (
            "How long this species is, and so how far it reaches, is not known; give its length in "
            "the file, under animals."
        )
        return {"overlay": None, "why": why, "told": "", "tables": [], "routes": []}
    ends = [{"at": list(d.at), "name": clean(d.piece, 30)} for d in one.climb.dead_ends]
    overlay = {
        "spots": [{"name": clean(s.name, 30), "at": list(s.at), "reached": s.reached}
                  for s in graph.spots],
        "links": [{"from": list(x.start), "to": list(x.end), "reached": x.reached}
                  for x in graph.links],
        "routes": [{"points": [list(p) for p in r.points], "off": r.off} for r in graph.routes],
        "ends": ends,
    }  # fmt: skip
    apart = [clean(t.name, 30) for t in graph.things if not t.reached]
    beyond = [clean(s.name, 30) for s in graph.spots if not s.reached]
    told = (
        f"{sum(s.reached for s in graph.spots)} of {len(graph.spots)} named places are within reach"
        + (f"; out of reach: {', '.join(beyond)}" if beyond else "")
        + (f"; pieces it does not get to: {', '.join(apart)}" if apart else "")
        + f"; dead ends: {len(ends) or 'none'}."
    )
    routes = {
        "title": "Ways from place to place",
        "columns": ["from", "to", "length", "way"], "right": [2],
        "rows": [
            [clean(r.first, 30), clean(r.second, 30), quantities.length(r.length, system),
             "keeps off the ground" if r.off else "over the ground"] for r in graph.routes
        ],
        "note": "The shortest for this species' reach, over pieces and the plants that carry it.",
    }  # fmt: skip
    # Ways to shelter are among those from place to place.
    rest = [shown(t, habitat) for t in way_tables(one, system) if "never touch" not in t.title]
    return {"overlay": overlay, "why": "", "told": told,
            "tables": [*([routes] if routes["rows"] else []), *rest]}  # fmt: skip


# -- the room they have --------------------------------------------------------------------------------


def space(one: Residents, box: Box, system: str) -> list[dict[str, Any]]:
    """Each standard with each of its figures: what it asks, what there is, and the state."""
    from loamwright.engine.life.room_findings import standard_findings
    from loamwright.report.animals_blocks import standard_words

    out: dict[str, dict[str, Any]] = {}
    for asked in one.asked:
        row = out.setdefault(asked.standard.key, {
            "law": asked.standard.status == "law", "title": standard_words(asked), "figures": [],
        })  # fmt: skip
        row["figures"] += [_figure(asked, f, system) for f in standard_findings(box, asked)]
    return list(out.values())


def _figure(asked: Asked, finding: Finding, system: str) -> dict[str, Any]:
    animals = "1 animal" if asked.animals == 1 else f"{asked.animals} animals"
    length = "" if asked.length is None else quantities.length(asked.length.value, system)
    when = f"{'now' if asked.when == 'now' else 'grown'}: {animals}"
    told, (low, _) = quantities.worded_with(
        finding.quantity, finding.value, (finding.low, None), system
    )
    share = None
    if finding.value is not None and finding.low:
        share = min(finding.value / finding.low, 2.0) / 2.0
    side = next((c.subject for c in finding.causes if c.kind == "side"), "")
    what = FIGURES.get(finding.need, finding.need)
    if asked.spoken != asked.animals and finding.need in ("space-floor", "space-pool"):
        low = f"{low} for {asked.spoken}; it names no more"
    return {
        "when": f"{when} of {length}" if length else when,
        "what": f"{side} side" if side else what, "asks": low or "not known",
        "has": told if finding.value is not None else "–", "share": share,
        "state": finding.state.value, "sign": SYMBOLS[finding.state], "word": STATES[finding.state],
    }  # fmt: skip


def seasons_of(one: Residents | None) -> list[str]:
    """Seasons that a species' choice was computed for."""
    return list(one.choices) if one is not None else []


def kinds(residents: Sequence[Residents]) -> list[list[str]]:
    """Species to choose from: key and name."""
    return [[one.species.key, capital(clean(one.species.label, 40))] for one in residents]
