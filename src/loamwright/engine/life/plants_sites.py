"""Light and air at the plants' crowns, out of the light's and the climate's results."""

from __future__ import annotations

from collections.abc import Mapping

from loamwright.engine.climate.results import ClimateRun
from loamwright.engine.light.values import LightResult
from loamwright.habitat.habitat import Habitat


def crown_light(habitat: Habitat, light: LightResult) -> dict[str, float]:
    """Daily light at each crown, facing up, by plant [mol/(m2 d)]."""
    values = {s.name: s.values["up"]["dli"] for s in light.sites}
    return {s.plant: values[s.name] for s in habitat.sites if s.plant and s.name in values}


def crown_air(habitat: Habitat, days: Mapping[str, ClimateRun]) -> dict[str, tuple[float, float]]:
    """Mean air of the typical winter and summer day at each crown, by plant [K]."""
    out = {}
    for site in habitat.sites:
        if site.plant:
            winter, summer = (
                float(days[s].air[:-1, days[s].site(site.name)].mean())
                for s in ("winter", "summer")
            )
            out[site.plant] = (winter, summer)
    return out
