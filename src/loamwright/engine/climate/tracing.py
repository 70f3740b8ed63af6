"""Rays that carry lamps' light and mist to leaves, and what places and surfaces see of each other."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from loamwright.engine.light import kernels
from loamwright.engine.light.directions import spread
from loamwright.engine.light.emitters import Emitter, emitted_rays
from loamwright.engine.light.radiosity import exchange_shares
from loamwright.engine.light.sensors import View, sheet_arguments
from loamwright.engine.scene import Canopies

Floats = NDArray[np.float64]

RAYS = 4096
"""Rays followed from a lamp; the shares leaves take of it are within 2 % of those with 65,536."""

BOUNCES = 3
"""Times a ray is thrown back before what is left of it is let go."""

THERMAL = 4
"""Number of the thermal infrared in `bands.BANDS`; leaves stop drops as they stop it."""

SIGHT_RAYS = 512
"""Rays that look from each patch: walls of a bare box then see each other within 1 %."""


def crossed(crowns: Canopies, origins: Floats, directions: Floats, spans: Floats) -> Floats:
    """Length [m] of each ray within each crown, (K, C); ``spans`` (K,) how far it goes."""
    half = crowns.half[None, :, :]
    start = (origins[:, None, :] - crowns.centre[None, :, :]) / half
    way = directions[:, None, :] / half
    a = (way**2).sum(axis=2)
    b = (start * way).sum(axis=2)
    c = (start**2).sum(axis=2) - 1.0
    root = np.sqrt(np.maximum(b * b - a * c, 0.0))
    enter = np.clip((-b - root) / a, 0.0, spans[:, None])
    leave = np.clip((-b + root) / a, 0.0, spans[:, None])
    return leave - enter


def _in_leaves(crowns: Canopies, band: int, length: Floats) -> tuple[Floats, Floats]:
    """Share of each ray stopped in each crown (K, C), and let through by all (K,)."""
    depth = length * crowns.extinction[None, :, band]
    total = depth.sum(axis=1)
    kept = np.exp(-total)
    weight = depth / np.maximum(total, 1e-12)[:, None]
    return weight * (1.0 - kept)[:, None], kept


def light_in_leaves(view: View, emitter: Emitter, reflect: Floats) -> Floats:
    """Share of a lamp's flux that each crown takes in each band, (C, 5); straight and after up to
    `BOUNCES` reflections. ``reflect`` (P, 3) by optical group; thermal infrared is not thrown back."""
    crowns = view.scene.canopies
    count = len(crowns.names)
    out = np.zeros((count, 5))
    if count == 0:
        return out
    # Bands of a lamp that leave it in the same way share their rays.
    for narrow in np.unique(emitter.narrow):
        bands = np.nonzero(emitter.narrow == narrow)[0]
        _follow(view, emitter, reflect, bands, out)
    return out


def _follow(
    view: View, emitter: Emitter, reflect: Floats, bands: NDArray[np.int64], out: Floats
) -> None:
    """Add what crowns take in some bands to ``out`` (C, 5)."""
    crowns = view.scene.canopies
    origins, directions, share = emitted_rays(emitter, RAYS, spread(RAYS, 4), int(bands[0]))
    hit, span = view.solid.first(origins.astype(np.float32), directions.astype(np.float32))
    reach = np.where(hit >= 0, span, 4.0).astype(float)
    none = Canopies(np.zeros((0, 3)), np.zeros((0, 3)), np.zeros((0, 5)), ())
    through = kernels.along_rays(  # type: ignore[call-arg]
        origins, directions, reach, *sheet_arguments(view.scene.sheets),
        none.centre, none.half, none.extinction,
    )  # fmt: skip
    carried = share[:, None] * through / share.sum()
    back = np.column_stack([reflect[:, [0, 0, 1, 2]], np.zeros(len(reflect))])
    patch = np.where(hit >= 0, view.patch_of[np.maximum(hit, 0)], -1)
    numbers = spread(RAYS * BOUNCES, 2)
    for bounce in range(BOUNCES + 1):
        length = crossed(crowns, origins, directions, reach)
        for band in bands:
            taken, kept = _in_leaves(crowns, band, length)
            out[:, band] += taken.T @ carried[:, band]
            carried[:, band] *= kept
        met = patch >= 0
        if bounce == BOUNCES or not met.any():
            break
        rows = patch[met]
        origins = (origins + directions * reach[:, None])[met]
        carried = carried[met] * back[rows]
        normals = view.scene.normal[rows]
        facing = np.einsum("ij,ij->i", directions[met], normals) > 0
        normals = np.where(facing[:, None], -normals, normals)
        u = numbers[bounce * RAYS : bounce * RAYS + len(rows)]
        directions = _scattered(normals, u)
        origins = origins + 1e-3 * normals
        patch, span = view.met(origins.astype(np.float32), directions.astype(np.float32))
        reach = np.where(patch >= 0, span, 4.0).astype(float)


def _scattered(normals: Floats, u: Floats) -> Floats:
    radius, angle = np.sqrt(u[:, 0]), 2 * np.pi * u[:, 1]
    helper = np.where(np.abs(normals[:, :1]) < 0.9, [[1.0, 0.0, 0.0]], [[0.0, 1.0, 0.0]])
    first = np.cross(normals, helper)
    first /= np.linalg.norm(first, axis=1, keepdims=True)
    second = np.cross(normals, first)
    return (
        first * (radius * np.cos(angle))[:, None]
        + second * (radius * np.sin(angle))[:, None]
        + normals * np.sqrt(1.0 - u[:, :1])
    )


@dataclass(frozen=True)
class Sight:
    """What patches see: ``shares`` (P, P) of the others past leaves, ``leaves`` (P,) share that leaves
    fill, ``gaps`` (P,) share in which nothing is met."""

    shares: Floats
    leaves: Floats
    gaps: Floats


def sight(view: View) -> Sight:
    """Look from every patch in the thermal infrared."""
    past = exchange_shares(view, SIGHT_RAYS, np.array([THERMAL]))[0]
    seen = met = past.sum(axis=1)
    if view.scene.canopies.names:
        met = exchange_shares(view, SIGHT_RAYS, np.array([], np.int64))[0].sum(axis=1)
    return Sight(past, np.maximum(met - seen, 0.0), np.maximum(1.0 - met, 0.0))


def sight_from(view: View, points: Floats, normals: Floats, rays: int = 512) -> tuple[
    Floats, Floats
]:  # fmt: skip
    """What facets see: shares of the patches (N, P) past leaves, and of leaves (N,)."""
    count, patches = len(points), view.scene.patches
    crowns = view.scene.canopies
    shares, leaves = np.zeros((count, patches)), np.zeros(count)
    fan = np.column_stack([spread(rays, 2)])
    for k in range(count):
        directions = _scattered(np.tile(normals[k], (rays, 1)), fan)
        origins = np.tile(points[k], (rays, 1))
        hit, span = view.met(origins.astype(np.float32), directions.astype(np.float32))
        found = hit >= 0
        kept = np.ones(rays)
        if len(crowns.names):
            length = crossed(crowns, origins, directions, np.where(found, span, 4.0).astype(float))
            _, kept = _in_leaves(crowns, THERMAL, length)
        shares[k] = np.bincount(hit[found], kept[found], patches) / rays
        leaves[k] = (1.0 - kept).mean()
    return shares, leaves


DRIFT = 0.5
"""Way [m] after which a fine drop has lost its speed and falls. From memory: the stopping distance of
drops of 0.1 mm thrown at 10 m/s in the air they drag along."""

CONE_RAYS = 1024


@dataclass(frozen=True)
class Spray:
    """Where a nozzle's water goes: ``patches`` (P,) and ``crowns`` (C,) shares that land there,
    ``points`` (K, 3) on its way, ``length`` mean way [m]."""

    patches: Floats
    crowns: Floats
    points: Floats
    length: float


def spray(view: View, at: Floats, aim: Floats, cone: float) -> Spray:
    """Follow drops from a nozzle: straight through its cone for `DRIFT`, then down."""
    crowns = view.scene.canopies
    # The cap of the cone, cut from an even sphere and laid on the aim.
    edge = np.cos(cone / 2)
    u = spread(CONE_RAYS, 2)
    cosine = 1.0 - u[:, 0] * (1.0 - edge)
    sine, angle = np.sqrt(1.0 - cosine**2), 2 * np.pi * u[:, 1]
    helper = np.array([1.0, 0.0, 0.0]) if abs(aim[0]) < 0.9 else np.array([0.0, 1.0, 0.0])
    first = np.cross(aim, helper)
    first /= np.linalg.norm(first)
    second = np.cross(aim, first)
    directions = (
        np.outer(sine * np.cos(angle), first) + np.outer(sine * np.sin(angle), second)
        + np.outer(cosine, aim)
    )  # fmt: skip
    landed = np.zeros(view.scene.patches)
    stopped = np.zeros(len(crowns.names))
    carried = np.full(CONE_RAYS, 1.0 / CONE_RAYS)
    origins = np.tile(at, (CONE_RAYS, 1))
    points: list[Floats] = []
    way = 0.0
    for leg, limit in enumerate((DRIFT, 8.0)):
        hit, span = view.met(origins.astype(np.float32), directions.astype(np.float32))
        reach = np.minimum(np.where(hit >= 0, span, limit), limit).astype(float)
        if len(crowns.names):
            length = crossed(crowns, origins, directions, reach)
            taken, kept = _in_leaves(crowns, THERMAL, length)
            stopped += taken.T @ carried
            carried = carried * kept
        points.append(origins + directions * (0.5 * reach)[:, None])
        way += float((reach * carried).sum() / max(carried.sum(), 1e-12))
        ends = (hit >= 0) & (span <= limit)
        landed += np.bincount(hit[ends], carried[ends], view.scene.patches)
        if leg == 0:
            go = ~ends
            origins = (origins + directions * reach[:, None])[go]
            carried = carried[go]
            directions = np.tile([0.0, 0.0, -1.0], (len(origins), 1))
            if not len(origins):
                break
    total = landed.sum() + stopped.sum()
    if total > 0.0:
        landed, stopped = landed / total, stopped / total
    return Spray(landed, stopped, np.concatenate(points), way)
