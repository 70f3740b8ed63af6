"""Names of what is bought: every part of the plan and every price list calls a thing the same."""

from __future__ import annotations

import re
import unicodedata


def slug(text: str) -> str:
    """A text as small letters, digits and single hyphens, ``thing`` where nothing of it is left."""
    plain = unicodedata.normalize("NFKD", text).encode("ascii", "ignore").decode().lower()
    return re.sub(r"[^a-z0-9]+", "-", plain).strip("-") or "thing"


def millimetres(length: float) -> str:
    """A length [m] as it stands in a key: ``10mm``, ``2.5mm``."""
    return f"{round(1000.0 * length, 1):g}mm"


def panel_key(material: str, thickness: float) -> str:
    """A panel's sheet: material and thickness [m]."""
    return f"panels/{material}-{millimetres(thickness)}"


def lining_key(material: str, thickness: float) -> str:
    """A background: material and thickness [m]."""
    return f"background/{material}-{millimetres(thickness)}"


def cover_key(cover: str) -> str:
    """A mesh or sheet over an opening."""
    return f"covers/{cover}"


def sheet_key(kind: str) -> str:
    """A layer of the ground that is cut from a sheet or roll (``drainage-mat``, ``fleece``)."""
    return f"sheets/{kind}"


def media_key(component: str) -> str:
    """What a layer of the ground is filled with."""
    return f"media/{component}"


def litter_key(leaf: str) -> str:
    """Leaf litter, by dry mass."""
    return f"litter/{leaf}"
