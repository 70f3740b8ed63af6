"""Codes that a camera reads at the place of a measurement (QR, ISO/IEC 18004)."""

from __future__ import annotations

import io
from collections.abc import Sequence

from loamwright.plan.handover import Check
from loamwright.plan.identifiers import scanned

BORDER = 4
"""Quiet modules round a code, as the standard asks."""


def code_svg(name: str, scale: float = 3.0) -> bytes:
    """The code of one measurement as SVG: its name behind `plan.identifiers.PREFIX`.

    Only digits and capital letters stand in it, so the code is the small kind; level M: a seventh of it
    may be dirty.
    """
    import segno

    out = io.BytesIO()
    made = segno.make(scanned(name), error="m", micro=False, boost_error=False)
    made.save(out, kind="svg", scale=scale, border=BORDER, xmldecl=True, svgns=True, nl=False)
    return out.getvalue()


def codes(checks: Sequence[Check]) -> dict[str, bytes]:
    """The code of every measurement by its name."""
    return {c.name: code_svg(c.name) for c in checks}
