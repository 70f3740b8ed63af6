"""Adaptors that let a reference sheet speak of rectangles as lists of whole numbers."""

from __future__ import annotations

import numpy as np

from loamwright.plan.packing import pack_sheets
from loamwright.plan.rectangles import Bin, Item


def sheets_needed(width: int, height: int, sizes: list[int]) -> int:
    """Sheets that items in fixed direction are cut from; every one is seen to be cut by edge to edge
    cuts in `test_packing.py`."""
    items = [Item(w, h, False) for w, h in zip(sizes[::2], sizes[1::2], strict=True)]
    packed = pack_sheets(items, [Bin(width, height)], 0, np.random.default_rng(1), tries=120)
    return len(packed.patterns)
