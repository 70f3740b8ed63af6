"""The ground at the handover: looked at, felt and squeezed at two depths beneath each probe."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from loamwright.engine.findings import Finding
from loamwright.habitat.ground import DRAINING
from loamwright.habitat.habitat import Habitat

LITTER = "leaf-litter"

TOP = 0.02
"""How deep the top is felt under the litter [m]; common practice, no source."""


@dataclass(frozen=True, slots=True)
class GroundCheck:
    """One handful: beneath which ``site``, ``depth`` under the surface [m]; ``part`` ``top`` or
    ``middle``; of the middle the ``band`` of water by volume that is wanted [1], ends None where
    open."""

    site: str
    depth: float
    part: str
    band: tuple[float | None, float | None] = (None, None)


def ground_checks(habitat: Habitat, findings: Iterable[Finding]) -> tuple[GroundCheck, ...]:
    """Handfuls at each probe: the top where its dryness is a finding, the middle of the deepest layer
    where its moisture is one."""
    found = {f.need: f for f in findings if f.need in ("ground-top", "ground-moist")}
    layers = [x for x in habitat.ground.layers if x.kind not in DRAINING]
    rooted = [x for x in layers if x.kind != LITTER]
    if not found or not rooted:
        return ()
    deepest = max(rooted, key=lambda x: x.depth)
    litter = sum(x.depth for x in layers if x.kind == LITTER)
    above = litter + sum(x.depth for x in rooted[rooted.index(deepest) + 1 :])
    out = []
    for site in habitat.sites:
        if site.role != "probe":
            continue
        if "ground-top" in found:
            out.append(GroundCheck(site.name, litter + min(TOP, 0.5 * deepest.depth), "top"))
        if "ground-moist" in found:
            moist = found["ground-moist"]
            out.append(GroundCheck(site.name, above + 0.5 * deepest.depth, "middle",
                                   (moist.low, moist.high)))  # fmt: skip
    return tuple(out)
