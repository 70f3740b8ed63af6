"""Photometric files: read one, find its flux, make a measured lamp of it."""

from __future__ import annotations

import dataclasses
import math
from pathlib import Path

import numpy as np

from loamwright.errors import InputError, Problem
from loamwright.files.photometry_ies import read_ies
from loamwright.files.photometry_ldt import read_eulumdat
from loamwright.files.photometry_table import Photometry
from loamwright.habitat.catalogue import LampType
from loamwright.habitat.sources import Source, SourceKind

__all__ = ["MAX_BYTES", "Photometry", "flux", "parse_photometry", "read_photometry", "to_lamp_type"]

MAX_BYTES = 2_000_000
"""Largest photometric file read; real ones have some ten thousand bytes."""


LEAST_FLUX = 1e-6
"""Below this [lm] a file is held to describe no light at all."""

_READERS = {".ies": read_ies, ".ldt": read_eulumdat}


def read_photometry(path: Path) -> Photometry:
    """Read an IESNA LM-63 (``.ies``) or EULUMDAT (``.ldt``) file.

    Raises `InputError` with the place of everything that is wrong.
    """
    file = str(path)
    if path.suffix.lower() not in _READERS:
        raise InputError(
            Problem(f"{path.suffix or 'no ending'!r} is not a photometric file's ending; "
                    ".ies (IESNA LM-63) or .ldt (EULUMDAT) is right", file=file)
        )  # fmt: skip
    try:
        size = path.stat().st_size
        if size > MAX_BYTES:
            raise InputError(
                Problem(f"the file has {size} bytes; up to {MAX_BYTES} are read", file=file)
            )
        raw = path.read_bytes()[: MAX_BYTES + 1]
    except OSError as error:
        raise InputError(
            Problem(f"the file cannot be read: {error.strerror or error}", file=file)
        ) from error
    if b"\x00" in raw.rstrip(b"\x00\x1a"):
        raise InputError(Problem("this is not a text file", file=file, line=1, column=1))
    try:
        text = raw.decode("utf-8-sig")
    except UnicodeDecodeError:
        text = raw.decode("latin-1")  # older files name lamps in the code page of their day
    return parse_photometry(text, path.suffix.lower(), file)


def parse_photometry(text: str, ending: str, file: str) -> Photometry:
    """Read the text of a photometric file; ``ending`` is ``.ies`` or ``.ldt``.

    Raises `InputError` with the place of everything that is wrong.
    """
    found = _READERS[ending](text, file)
    total = flux(found)
    if not math.isfinite(total + (found.lumens or 0.0) + sum(found.size)):
        raise InputError(Problem("the numbers are too large to be meant", file=file))
    if total < LEAST_FLUX:
        raise InputError(
            Problem("every intensity is 0: nothing shines", field="intensities", file=file)
        )
    return found


def flux(photometry: Photometry) -> float:
    """Luminous flux of a distribution, integrated over the sphere [lm].

    Intensity is taken to run linearly between the angles given; each strip is then integrated
    exactly: the sum is off only by how far the real curve bows between two angles.
    """
    v = np.asarray(photometry.vertical)
    h = np.asarray(photometry.horizontal)
    rows = np.asarray(photometry.candela)
    step = np.diff(v)
    whole = np.cos(v[:-1]) - np.cos(v[1:])
    # Integral of (v - v0)/step sin v over the strip: the share that falls to its upper end.
    upper = (np.sin(v[1:]) - np.sin(v[:-1])) / step - np.cos(v[1:])
    weight = np.zeros_like(v)
    weight[1:] += upper
    weight[:-1] += whole - upper
    with np.errstate(over="ignore", invalid="ignore"):
        planes = rows @ weight
        return float(np.sum(np.diff(h) * 0.5 * (planes[1:] + planes[:-1])))


def to_lamp_type(
    photometry: Photometry, base: LampType, key: str | None = None, label: str | None = None
) -> LampType:
    """A measured lamp: the file's distribution with the spectrum of a generic lamp.

    A photometric file knows lumens, not spectra. Bands and what they do to a reptile's skin, a
    leaf or an eye come from ``base``; if ``base`` gives visible light, its light, ultraviolet and
    near infrared are scaled so that the lumens are those of the file, and its thermal infrared with
    the power drawn. ``base`` of no visible light (a heat emitter) keeps its powers.

    Parameters
    ----------
    photometry : Photometry
        What the file says.
    base : LampType
        The generic lamp of the same kind.
    key, label : str, optional
        Key and plain name of the new lamp; those of the base and of the file where left out.

    Returns
    -------
    LampType
        Of shape ``measured``: its ``table`` integrates to 1 over the sphere [1/sr].
    """
    total = flux(photometry)
    table = tuple(tuple(c / total for c in row) for row in photometry.candela)
    length, width, _ = photometry.size
    name = Path(photometry.file).name or photometry.label
    said = Source(f"photometric file {name}", SourceKind.BUILDER)
    sources = dict(base.sources)
    sources |= {"table": said, "length": said, "width": said, "diameter": said}
    base_lumens = sum(
        w * lm for w, lm in zip(base.band_watts, base.per_watt.get("lux", ()), strict=False)
    )
    watts = base.band_watts
    power = base.power if photometry.watts is None else photometry.watts
    if base_lumens > 0.0:
        scale = total / base_lumens
        a, b, c, d = (w * scale for w in watts[:4])
        watts = (a, b, c, d, watts[4] * (power / base.power if base.power > 0.0 else 1.0))
        sources["band_watts"] = Source(
            f"{total:.0f} lm of photometric file {name}, spectrum of {base.label}",
            SourceKind.CALCULATED,
        )
    if photometry.watts is not None:
        sources["power"] = said
    return dataclasses.replace(
        base,
        key=key or base.key,
        label=label or photometry.label,
        sources=sources,
        shape="measured",
        power=power,
        band_watts=watts,
        length=length,
        width=width,
        diameter=max(length, width) if photometry.round else 0.0,
        table=(photometry.vertical, photometry.horizontal, table),
    )
