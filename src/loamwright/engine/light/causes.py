"""Why a value is what it is: the lamps behind it and what stands in their way."""

from __future__ import annotations

import numpy as np

from loamwright.engine.findings import Cause
from loamwright.engine.light.record import LightStudy
from loamwright.engine.light.values import LightResult
from loamwright.habitat.habitat import Habitat

UVB, UVA, PAR = 0, 1, 2

WORTH_NAMING = 0.95
"""An obstacle that lets more than this through is not named."""

LAMP_WORTH_NAMING = 0.10
"""A lamp that gives less than this share is not named."""


def causes_at(
    habitat: Habitat,
    study: LightStudy,
    result: LightResult,
    site: int,
    quantity: str,
    facing: str,
) -> tuple[Cause, ...]:
    """Lamps that make the value, strongest first, and for the strongest what costs it light."""
    column = result.table[facing][quantity][:, site]
    total = float(column.sum())
    if total <= 0.0:
        return (Cause("no_lamp", quantity),)
    out: list[Cause] = []
    order = np.argsort(-column, kind="stable")
    for k in order:
        share = float(column[k]) / total
        if share >= LAMP_WORTH_NAMING:
            out.append(Cause("lamp_share", habitat.lamps[k].name, share))
    top = int(order[0])
    return tuple(out) + obstacles(habitat, study, site, top, band_of(quantity))


def band_of(quantity: str) -> int:
    """The band that speaks for a quantity when its losses are told."""
    return {"uvi": UVB, "uvb": UVB, "uva": UVA}.get(quantity, PAR)


def obstacles(
    habitat: Habitat, study: LightStudy, site: int, k: int, band: int
) -> tuple[Cause, ...]:
    """What costs lamp ``k`` light of one band at a site: distance, covers, solids, crowns, dimming,
    age."""
    lamp = habitat.lamps[k]
    out = [Cause("distance", lamp.name, float(study.distance[k, site]))]
    for name, keeps in zip(study.sheets, study.sheets_keep[k, site, :, band], strict=True):
        if keeps < WORTH_NAMING:
            out.append(Cause("cover", name, float(keeps)))
    hidden = 1.0 - float(study.solids_keep[k, site])
    if hidden > 1.0 - WORTH_NAMING and study.blocker[k, site] >= 0:
        out.append(Cause("shadow", study.owners[study.blocker[k, site]], hidden))
    for name, keeps in zip(study.crowns, study.crowns_keep[k, site, :, band], strict=True):
        if keeps < WORTH_NAMING:
            out.append(Cause("canopy", name, float(keeps)))
    if lamp.dim < 1.0:
        out.append(Cause("dim", lamp.name, lamp.dim))
    kind = lamp.type
    if lamp.hours_run > 0 and kind.life and kind.end_share is not None:
        left = kind.end_share ** (lamp.hours_run / kind.life)
        if left < 0.98:
            out.append(Cause("aged", lamp.name, left))
    return tuple(out)
