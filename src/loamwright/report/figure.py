"""The sheet a picture is drawn on: style, measure, files. Matplotlib is imported when used."""

from __future__ import annotations

import io
import os
import warnings
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from matplotlib.figure import Figure

INK, SOFT_INK, FAINT, PAPER = "#25302B", "#5C6862", "#A9B2AC", "#FDFCF7"
"""Colours of text and lines on paper, none of them carrying a meaning."""

STYLE: dict[str, Any] = {
    "font.family": "DejaVu Sans",
    "font.size": 8.5,
    "text.color": INK,
    "axes.edgecolor": FAINT,
    "axes.labelcolor": SOFT_INK,
    "axes.linewidth": 0.6,
    "xtick.color": SOFT_INK,
    "ytick.color": SOFT_INK,
    "xtick.labelsize": 7.5,
    "ytick.labelsize": 7.5,
    "figure.facecolor": PAPER,
    "savefig.facecolor": PAPER,
    "hatch.linewidth": 0.5,
    # Names come from a file: a dollar sign is a dollar sign and never a formula.
    "text.parse_math": False,
    "text.usetex": False,
    "svg.fonttype": "path",
    "svg.hashsalt": "loamwright",
    "path.simplify": True,
}

DPI = 160

EDGE = 0.04
"""Where a picture's title begins, from its left edge [in]: flush with the text beside it."""

FORMATS: tuple[str, ...] = ("png", "svg")


@contextmanager
def style() -> Iterator[None]:
    """Own style, whatever the user's settings of matplotlib are; glyphs no font has are quiet."""
    import matplotlib

    with matplotlib.rc_context(), warnings.catch_warnings():
        warnings.filterwarnings("ignore", message="Glyph .* missing from")
        matplotlib.rcdefaults()
        matplotlib.rcParams.update(STYLE)  # type: ignore[arg-type]
        yield


def to_bytes(figure: Figure, kind: str) -> bytes:
    """The picture as a file's bytes (``png`` or ``svg``), the same every time."""
    metadata: dict[str, Any] = (
        {"Date": None, "Creator": "loamwright"} if kind == "svg" else {"Software": "loamwright"}
    )
    out = io.BytesIO()
    figure.savefig(out, format=kind, dpi=DPI, metadata=metadata)
    return out.getvalue()


def write_whole(path: Path, content: bytes) -> None:
    """Write a file whole or not at all: under a temporary name, then renamed."""
    path.parent.mkdir(parents=True, exist_ok=True)
    half = path.with_name(f".{path.name}.{os.getpid()}.part")
    try:
        half.write_bytes(content)
        half.replace(path)
    finally:
        half.unlink(missing_ok=True)
