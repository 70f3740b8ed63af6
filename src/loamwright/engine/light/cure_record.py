"""Cures of findings as arrays, to be kept, and back."""

from __future__ import annotations

import json
from collections.abc import Mapping, Sequence
from dataclasses import asdict, replace
from typing import Any

import numpy as np
from numpy.typing import NDArray

from loamwright.engine.findings import Cure, Finding


def arrays_of(findings: Sequence[Finding]) -> dict[str, NDArray[Any]]:
    """The findings' cures, each under its finding's number."""
    rows = {str(i): asdict(f.cure) for i, f in enumerate(findings) if f.cure is not None}
    return {"cures": np.array(json.dumps(rows))}


def with_cures(findings: Sequence[Finding], arrays: Mapping[str, NDArray[Any]]) -> list[Finding]:
    """The same findings with the cures that `arrays_of` made arrays of."""
    rows: dict[str, Any] = json.loads(str(arrays["cures"]))
    out = list(findings)
    for number, row in rows.items():
        to = row.pop("to")
        cure = Cure(**row, to=None if to is None else tuple(to))
        out[int(number)] = replace(out[int(number)], cure=cure)
    return out
