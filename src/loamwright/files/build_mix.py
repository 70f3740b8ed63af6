"""What a mix is made of, and the ground of existing habitats that goes into it."""

from __future__ import annotations

import math
from collections.abc import Iterable, Mapping

from loamwright.files.build_context import Build
from loamwright.files.document import Loc
from loamwright.files.schema_box import LayerPart
from loamwright.habitat.enclosure import Enclosure
from loamwright.habitat.residents import Existing

Pairs = tuple[tuple[str, float], ...]


def build_mix(build: Build, loc: Loc, part: LayerPart) -> tuple[Pairs, Pairs]:
    """Parts and reuse of a layer; only a mix has them."""
    if part.kind != "mix":
        for key in ("parts", "reuse"):
            if getattr(part, key) is not None:
                build.say((*loc, key), f"belongs to a mix, not to {part.kind}", key=True)
        return (), ()
    return _parts(build, (*loc, "parts"), part), _reuse(build, (*loc, "reuse"), part)


def _parts(build: Build, loc: Loc, part: LayerPart) -> Pairs:
    if part.parts is None:
        return ()
    for key in part.parts:
        if key not in build.catalogue.components:
            build.component(key, (*loc, key))
    total = math.fsum(part.parts.values())
    if not total > 0.0:
        message = f"sum to {total:g}: at least one component needs more than 0 parts"
        build.say(loc, message)
    return tuple((key, float(value)) for key, value in part.parts.items())


def _reuse(build: Build, loc: Loc, part: LayerPart) -> Pairs:
    entries = part.reuse or []
    total = math.fsum(entry.share for entry in entries)
    if total > 1.0 + 1e-9:
        shares = " + ".join(entry.share.text for entry in entries)
        build.say(loc, f"{shares} make {total:.4g} of the layer; at most 1 (all of it) can be")
    first: set[str] = set()
    for i, entry in enumerate(entries):
        if entry.origin in first:
            message = f"{entry.origin!r} is named twice in this layer; give one share"
            build.say((*loc, i, "from"), message)
        first.add(entry.origin)
    return tuple((entry.origin, float(entry.share)) for entry in entries)


def check_reuse(
    build: Build, parts: Iterable[LayerPart], box: Enclosure, existing: Mapping[str, Existing]
) -> None:
    """Say which reused ground comes from nowhere, and where more is used than there is."""
    area = box.inside[0] * box.inside[1]
    taken: dict[str, float] = {}
    over: set[str] = set()
    for loc, part in build.entries("ground", parts):
        for i, entry in enumerate((part.reuse or []) if part.kind == "mix" else []):
            place = (*loc, "reuse", i)
            name = entry.origin
            if name not in existing:
                build.unknown_name((*place, "from"), name, "existing habitat", existing)
                continue
            if not build.box_known or part.depth is None or name in over:
                continue
            volume = area * float(part.depth)
            taken[name] = taken.get(name, 0.0) + float(entry.share) * volume
            there = existing[name].ground_volume
            if taken[name] > there * (1.0 + 1e-6):
                over.add(name)
                layer = build.show(volume, "volume")
                wanted = build.show(taken[name], "volume")
                also = "" if taken[name] == float(entry.share) * volume else ", with layers below,"
                message = (
                    f"{entry.share.text} of {layer}{also} is {wanted} of ground, "
                    f"but {name!r} holds {build.show(there, 'volume')}"
                )
                build.say((*place, "share"), message)
