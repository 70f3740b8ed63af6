"""The ultraviolet that meets someone who works in front of the open doors."""

from __future__ import annotations

import numpy as np

from loamwright.engine.findings import Cause, Finding, State, judge
from loamwright.engine.light.record import LightStudy
from loamwright.engine.light.values import brightest, by_lamp
from loamwright.habitat.habitat import Habitat
from loamwright.habitat.sources import Source, SourceKind

ACTINIC_LIMIT = 30.0
"""Largest S(l)-weighted dose of eye and skin in 8 h [J/m2] (ICNIRP 2004, Health Physics 87:171)."""

UVA_LIMIT = 10_000.0
"""Largest unweighted ultraviolet-A dose of the eye in 8 h [J/m2] (ICNIRP 2004, as above)."""

DAY = 8 * 3600.0
"""The span the limits are set for [s]."""

SOURCE = Source(
    "ICNIRP 2004, Health Physics 87(2):171-186: 30 J/m2 weighted with S(l), 10 000 J/m2 "
    "ultraviolet A to the eye, in 8 hours",
    SourceKind.PUBLISHED,
)


def permitted_seconds(actinic: float, uva: float) -> float:
    """How long a day someone may stay [s], at most 8 h: the shorter of the times to the two doses.

    ``actinic`` S(l)-weighted and ``uva`` unweighted irradiance [W/m2].
    """
    times = [DAY]
    if actinic > 0:
        times.append(ACTINIC_LIMIT / actinic)
    if uva > 0:
        times.append(UVA_LIMIT / uva)
    return min(times)


def people_finding(habitat: Habitat, study: LightStudy) -> list[Finding]:
    """One finding: the time permitted at the worst place in front of the doors against the time
    someone works there."""
    if not habitat.lamps:
        return []
    low = habitat.people.minutes_in_front
    source = SOURCE
    own = next((n for n in habitat.needs if n.quantity == "exposure_time"), None)
    if own is not None and own.low is not None:
        low, source = own.low, own.source
    if len(study.people_at) == 0:
        return [
            Finding(
                need="people-uv", engine="light", about="people", quantity="exposure_time",
                state=State.NOT_KNOWN, source=source, low=low, causes=(Cause("no_site", "door"),),
            )
        ]  # fmt: skip
    actinic = brightest(by_lamp(habitat.lamps, study.people, "actinic"))
    uva = brightest(by_lamp(habitat.lamps, study.people, "uva"))
    times = [
        permitted_seconds(float(a), float(u))
        for a, u in zip(actinic.sum(axis=0), uva.sum(axis=0), strict=True)
    ]
    worst = int(np.argmin(times))
    value = times[worst]
    ruling = actinic if ACTINIC_LIMIT / max(actinic[:, worst].sum(), 1e-12) <= value else uva
    column = ruling[:, worst]
    total = float(column.sum())
    top = int(column.argmax())
    relative = habitat.lamps[top].type.spread
    uncertainty = 0.0 if value >= DAY else value * relative
    state, margin = judge(value, low, None, uncertainty)
    at = study.people_at[worst]
    share = float(column[top]) / total if total > 0 else 0.0
    return [
        Finding(
            need="people-uv", engine="light", about="people", quantity="exposure_time",
            state=state, source=source, value=value, low=low, uncertainty=uncertainty,
            margin=margin, site="in front of the open doors",
            at=(float(at[0]), float(at[1]), float(at[2])), when="doors open, lamps on",
            facing="brightest",
            causes=(Cause("lamp_share", habitat.lamps[top].name, share),) if share > 0 else (),
        )
    ]  # fmt: skip
