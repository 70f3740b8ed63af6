"""The cover's picture as the pack takes it: on white, and small."""

from __future__ import annotations

import io

import numpy as np
from numpy.typing import NDArray

from loamwright.habitat.habitat import Habitat
from loamwright.report.cover_picture import cover
from loamwright.report.figure import PAPER

SIZE = (900, 720)
"""Size of the cover's picture [pixels]: 140 to the inch on the page."""

QUALITY = 88

FADE = 0.08
"""How far from its edge the picture fades [1 of its height]."""


def _to_edge(count: int) -> NDArray[np.int64]:
    """How many pixels each of a row lies from its nearer end."""
    at = np.arange(count)
    return np.minimum(at, count - 1 - at)


def cover_jpeg(habitat: Habitat) -> bytes:
    """The cover's picture as JPEG, its paper turned to white."""
    from PIL import Image

    pixels = np.asarray(Image.open(io.BytesIO(cover(habitat, *SIZE))).convert("RGB"), float)
    paper = np.array([int(PAPER[k : k + 2], 16) for k in (1, 3, 5)], float)
    white = np.clip(pixels * (255.0 / paper), 0.0, 255.0)
    # The soft shade of the floor fades into the page instead of ending at the picture's edge.
    high, wide = white.shape[:2]
    from_edge = np.minimum.outer(_to_edge(high), _to_edge(wide))
    kept = np.clip(from_edge / (FADE * high), 0.0, 1.0)[..., None]
    white = np.round(255.0 - (255.0 - white) * kept).astype(np.uint8)
    out = io.BytesIO()
    Image.fromarray(white).save(out, "JPEG", quality=QUALITY, optimize=True)
    return out.getvalue()
