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

DAMP = 0.10
"""Water by volume [1] from which ground that may hold no less feels moist; common practice, no
source."""


@dataclass(frozen=True, slots=True)
class GroundCheck:
    """One handful: beneath which ``site``, ``depth`` under the surface [m]; ``part`` ``top`` or
    ``middle``; the ``band`` that is wanted by volume [1], of air in the top and of water in the
    middle, ends None where open; ``damp`` False where the ground is meant to be all but dry."""

    site: str
    depth: float
    part: str
    band: tuple[float | None, float | None] = (None, None)
    damp: bool = True


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
    moist = found.get("ground-moist")
    damp = moist is None or moist.low is None or moist.low >= DAMP
    above = litter + sum(x.depth for x in rooted[rooted.index(deepest) + 1 :])
    out = []
    for site in habitat.sites:
        if site.role != "probe":
            continue
        if "ground-top" in found:
            top = found["ground-top"]
            out.append(GroundCheck(site.name, litter + min(TOP, 0.5 * deepest.depth), "top",
                                   (top.low, top.high), damp))  # fmt: skip
        if moist is not None:
            out.append(GroundCheck(site.name, above + 0.5 * deepest.depth, "middle",
                                   (moist.low, moist.high), damp))  # fmt: skip
    return tuple(out)
