"""Guard of the project folder: files named in a habitat file lie in its folder or below it."""

from __future__ import annotations

import stat
from pathlib import Path, PurePosixPath, PureWindowsPath

from loamwright.errors import InputError


def inside(root: Path, text: str) -> Path:
    """The path of a file named in a habitat file; raise `InputError` where it may not be read.

    Absolute paths, ``..``, links that lead out of ``root``, anything that is not a plain file
    and files that are not there are refused.
    """
    if any(ord(c) < 32 or ord(c) == 127 for c in text):
        raise InputError(f"{text!r} holds a character that no file name has")
    if text.startswith("~") or "://" in text:
        raise InputError(f"{text!r} must be a file in the project's folder, such as scans/root.stl")
    if "\\" in text:
        raise InputError(f"{text!r}: write folders with /, such as scans/root.stl")
    if PurePosixPath(text).is_absolute() or PureWindowsPath(text).drive:
        raise InputError(
            f"{text!r} is an absolute path; give the file relative to the project's folder"
        )
    if ".." in PurePosixPath(text).parts:
        raise InputError(f"{text!r} leaves the project's folder (..); move the file into it")
    path = root / text
    try:
        home, real = root.resolve(), path.resolve()
        if not real.is_relative_to(home):
            raise InputError(f"{text!r} is a link that leaves the project's folder")
        mode = real.stat().st_mode
    except FileNotFoundError:
        raise InputError(f"there is no file {text!r} in the project's folder") from None
    except (OSError, ValueError, RuntimeError) as error:
        reason = getattr(error, "strerror", None) or str(error)
        raise InputError(f"{text!r} cannot be read: {reason}") from None
    if not stat.S_ISREG(mode):
        raise InputError(f"{text!r} is not a file")
    return path
