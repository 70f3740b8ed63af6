"""The light engine's own balance: what lamps send must be what surfaces get.

The flux of each lamp is followed forward along rays from its body, and the share that reaches
solid surfaces is held against the sum of irradiance times area over the patches, which was
found backward from the surfaces. The two ways share geometry but neither sampling nor formulas.
"""

from __future__ import annotations

import numpy as np

from loamwright.engine.light import kernels
from loamwright.engine.light.directions import spread
from loamwright.engine.light.emitters import emitted_rays
from loamwright.engine.light.model import LightModel
from loamwright.engine.light.sensors import canopy_arguments, sheet_arguments
from loamwright.errors import BalanceError

RAYS = 16384

LIMIT = 0.05
"""Largest share of a lamp's flux that may go missing. Patches hold four points each, more near a lamp
and in a beam; what is left is a few per cent at worst (`tests` measure it)."""

PAR = 2


def flux_balance(model: LightModel, k: int) -> float:
    """Difference between what lamp ``k`` sends to solid surfaces and what they get, as a share of
    what it sends.

    Raises `BalanceError` beyond `LIMIT`.
    """
    scene, view = model.scene, model.view
    origins, directions, share = emitted_rays(model.emitters[k], RAYS, spread(RAYS, 4))
    hit, span = view.solid.first(origins.astype(np.float32), directions.astype(np.float32))
    lands = hit >= 0
    row = np.maximum(hit, 0)
    front = np.einsum("ij,ij->i", directions, view.facing[row]) < 0
    lands &= front | view.both[row]
    through = kernels.along_rays(
        origins, directions, np.where(lands, span, 1.0).astype(float),
        *sheet_arguments(scene.sheets), *canopy_arguments(scene.canopies),
    )  # fmt: skip
    sent = float((share * through[:, PAR])[lands].sum() / share.sum())
    gap = model.caught(k) - sent
    if abs(gap) > LIMIT:
        raise BalanceError(
            f"light of lamp '{model.lamps[k].name}': surfaces get {model.caught(k):.3f} of its "
            f"flux but {sent:.3f} is sent to them; its numbers cannot be used. Either the lamp, "
            "or part of it, is inside a solid piece or a panel, or something lies so close before "
            "it that its light there cannot be told; move the lamp by a few centimetres"
        )
    return gap
