"""What a layer's medium is, what a mix is made of, and the old ground that goes into it."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace

from loamwright.files.build_context import COMMON_PRACTICE, Build
from loamwright.files.document import Loc
from loamwright.files.schema_box import LayerPart
from loamwright.habitat.enclosure import Enclosure
from loamwright.habitat.ground import Ground, Layer
from loamwright.habitat.media import Component, Medium
from loamwright.habitat.residents import Existing

Pairs = tuple[tuple[str, float], ...]

MEDIA = {
    "drainage-mat": "drainage-mat",
    "clay-pebbles": "clay-pebbles",
    "gravel": "gravel",
    "fleece": "fleece",
    "coir": "coir",
    "peat": "peat",
    "bark": "orchid-bark",
    "soil": "loam",
    "clay": "clay",
    "loam-sand": "loam-sand",
    "sand": "sand",
    "moss": "moss",
    "leaf-litter": "leaf-litter",
}
"""The medium of a layer by kind; a mix has none of its own."""

USUAL_MIX = "tropical"
"""The finished mix taken where a mix says nothing of what it is made of."""


@dataclass(frozen=True, slots=True)
class Made:
    """What a layer is made of, as `habitat.ground.Layer` holds it."""

    parts: Pairs = ()
    reuse: Pairs = ()
    components: tuple[Component, ...] = ()
    mix: str = ""
    medium: Medium | None = None


def build_mix(build: Build, loc: Loc, part: LayerPart) -> Made:
    """Medium, parts and reuse of a layer; only a mix has parts and reuse."""
    if part.kind != "mix":
        for key in ("mix", "parts", "reuse"):
            if getattr(part, key) is not None:
                build.say((*loc, key), f"belongs to a mix, not to {part.kind}", key=True)
        return Made(medium=_medium(build, loc, part))
    mix, parts, components, measured = _parts(build, loc, part)
    medium = measured
    if part.medium is not None:
        medium = build.medium(part.medium, (*loc, "medium"))
    return Made(parts, _reuse(build, (*loc, "reuse"), part), components, mix, medium)


def _medium(build: Build, loc: Loc, part: LayerPart) -> Medium | None:
    """The medium of a layer that is no mix: the one named, else that of its kind or leaves."""
    if part.medium is not None:
        return build.medium(part.medium, (*loc, "medium"))
    key = MEDIA[part.kind]
    leaf = f"{part.leaf}-litter" if part.leaf else ""
    if leaf in build.catalogue.media:
        key = leaf
    return build.catalogue.media[key]


def _parts(
    build: Build, loc: Loc, part: LayerPart
) -> tuple[str, Pairs, tuple[Component, ...], Medium | None]:
    """The finished mix's key, parts, their components, and the mix's own medium."""
    if part.parts is None:
        return usual_mix(build, part.name or part.kind, part.mix, (*loc, "mix"))
    if part.mix is not None:
        message = "a mix has parts of its own or is a finished mix, not both; leave one out"
        build.say((*loc, "mix"), message, key=True)
    place = (*loc, "parts")
    found = []
    for key in part.parts:
        component = build.catalogue.components.get(key)
        if component is None:
            build.component(key, (*place, key))
        else:
            found.append(component)
    total = math.fsum(part.parts.values())
    if not total > 0.0:
        message = f"sum to {total:g}: at least one component needs more than 0 parts"
        build.say(place, message)
    pairs = tuple((key, float(value)) for key, value in part.parts.items())
    return "", pairs, tuple(found), None


def usual_mix(
    build: Build, layer: str, key: str | None, loc: Loc
) -> tuple[str, Pairs, tuple[Component, ...], Medium | None]:
    """A finished mix by its key, or the usual one where no key is given."""
    if key is None:
        key = USUAL_MIX
        build.default(f"ground[{layer}].mix", key, f"a usual mix, {COMMON_PRACTICE}")
    mix = build.mix(key, loc)
    if mix is None:
        return "", (), (), None
    pairs = tuple((component.key, parts) for component, parts in mix.parts)
    return key, pairs, tuple(component for component, _ in mix.parts), mix.medium


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


def with_old_ground(build: Build, ground: Ground, existing: Sequence[Existing]) -> Ground:
    """The ground with what is known of the old ground that goes into it."""
    known: dict[str, list[tuple[Component, float]]] = {}
    for loc, held in build.entries("existing", existing):
        mix = build.mix(held.mix, (*loc, "mix")) if held.mix else None
        if mix is not None:
            total = math.fsum(part for _, part in mix.parts)
            known[held.name] = [(c, part / total) for c, part in mix.parts]
    layers = []
    for layer in ground.layers:
        old = [(c, share * part) for name, share in layer.reuse for c, part in known.get(name, ())]
        layers.append(replace(layer, old=tuple(old)) if old else layer)
    return Ground(tuple(layers))


def check_reuse(
    build: Build, parts: Sequence[LayerPart], box: Enclosure, ground: Ground,
    existing: Mapping[str, Existing],
) -> None:  # fmt: skip
    """Say which reused ground comes from nowhere, and where more is used than there is."""
    area = box.inside[0] * box.inside[1]
    taken: dict[str, float] = {}
    over: set[str] = set()
    made: Sequence[Layer | None] = (
        ground.layers if len(ground.layers) == len(parts) else [None] * len(parts)
    )
    for (loc, part), layer in zip(build.entries("ground", parts), made, strict=True):
        for i, entry in enumerate((part.reuse or []) if part.kind == "mix" else []):
            place = (*loc, "reuse", i)
            name = entry.origin
            if name not in existing:
                build.unknown_name((*place, "from"), name, "existing habitat", existing)
                continue
            if not build.box_known or part.depth is None or name in over:
                continue
            # With its terraces, where the layer could be built.
            volume = area * (float(part.depth) if layer is None else layer.depth)
            taken[name] = taken.get(name, 0.0) + float(entry.share) * volume
            there = existing[name].ground_volume
            if taken[name] > there * (1.0 + 1e-6):
                over.add(name)
                of_layer = build.show(volume, "volume")
                wanted = build.show(taken[name], "volume")
                also = "" if taken[name] == float(entry.share) * volume else ", with layers below,"
                message = (
                    f"{entry.share.text} of {of_layer}{also} is {wanted} of ground, "
                    f"but {name!r} holds {build.show(there, 'volume')}"
                )
                build.say((*place, "share"), message)
