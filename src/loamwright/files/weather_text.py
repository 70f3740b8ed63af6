"""The text of a weather file, read within limits."""

from __future__ import annotations

from pathlib import Path

from loamwright.errors import InputError, Problem


def read_weather_text(path: Path, most: int) -> str:
    """The text of a file of at most so many bytes.

    UTF-8, or the old code pages in which instruments and stations write degree signs and
    names. Raises `InputError` for a file that is too large or no text.
    """
    file = str(path)
    try:
        with path.open("rb") as stream:
            raw = stream.read(most + 1)
    except OSError as error:
        reason = error.strerror or str(error)
        raise InputError(Problem(f"cannot be read: {reason}", file=file)) from error
    if len(raw) > most:
        raise InputError(
            Problem(f"is larger than {most / 1e6:g} MB; no such file is read", file=file)
        )
    if raw[:2] in (b"\xff\xfe", b"\xfe\xff"):
        message = "is written as UTF-16; save it as UTF-8 text"
        raise InputError(Problem(message, "", file, 1, 1))
    raw = raw.rstrip(b"\x00\x1a")  # marks of the end that some writers leave behind
    if b"\x00" in raw:
        raise InputError(Problem("this is not a text file", "", file, 1, 1))
    try:
        return raw.decode("utf-8-sig")
    except UnicodeDecodeError:
        return raw.decode("latin-1")
