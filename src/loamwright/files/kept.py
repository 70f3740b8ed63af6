"""Results kept on disk between runs, under a key made of everything they depend on.

The key is a digest of the input and of the code that made the result, so an entry can only answer
the question it was made for. A damaged entry is no entry.
"""

from __future__ import annotations

import hashlib
import os
import tempfile
import zipfile
from collections.abc import Mapping
from functools import lru_cache
from importlib import metadata
from pathlib import Path
from typing import Any

import numpy as np
from numpy.typing import NDArray

MOST = 64
"""Entries kept; the ones unused for longest go first."""

_LIBRARIES = ("numpy", "numba", "scipy", "embreex")


@lru_cache(maxsize=1)
def code_digest() -> str:
    """Digest of this package's own code and of the libraries whose numbers its results carry."""
    root = Path(__file__).parent.parent
    digest = hashlib.sha256()
    for path in sorted(root.rglob("*.py")):
        digest.update(str(path.relative_to(root)).encode())
        digest.update(path.read_bytes())
    for name in _LIBRARIES:
        digest.update(f"{name} {metadata.version(name)}".encode())
    return digest.hexdigest()


def key_of(kind: str, *parts: object) -> str:
    """Key of a result of one ``kind`` made from ``parts``, whose `repr` must tell them apart
    (frozen dataclasses of numbers and texts do)."""
    digest = hashlib.sha256(code_digest().encode())
    digest.update(kind.encode())
    for part in parts:
        digest.update(repr(part).encode())
        digest.update(b"\0")
    return digest.hexdigest()


class Kept:
    """Results kept in a folder; without one, for as long as this lives, the last `MOST` of them."""

    def __init__(self, folder: Path | None) -> None:
        self.folder = folder
        self._here: dict[str, dict[str, NDArray[Any]]] = {}

    @staticmethod
    def key(kind: str, *parts: object) -> str:
        """`key_of`, for those who have only the store."""
        return key_of(kind, *parts)

    def get(self, key: str) -> dict[str, NDArray[Any]] | None:
        """The arrays kept under a key, or None."""
        if self.folder is None:
            return self._here.get(key)
        path = self.folder / f"{key}.npz"
        try:
            with np.load(path, allow_pickle=False) as found:
                arrays = {name: found[name] for name in found.files}
            if str(arrays.pop("_key")) != key:
                return None
            os.utime(path)
        except (OSError, ValueError, KeyError, EOFError, zipfile.BadZipFile):
            return None
        return arrays

    def holds(self, key: str) -> bool:
        """Whether something is kept under a key, without reading it."""
        if self.folder is None:
            return key in self._here
        return (self.folder / f"{key}.npz").exists()

    def put(self, key: str, arrays: Mapping[str, NDArray[Any]]) -> None:
        """Keep arrays under a key, whole or not at all; a full or read-only disk is no error."""
        if self.folder is None:
            self._here[key] = dict(arrays)
            while len(self._here) > MOST:
                del self._here[next(iter(self._here))]
            return
        try:
            self.folder.mkdir(parents=True, exist_ok=True)
            with tempfile.NamedTemporaryFile(dir=self.folder, suffix=".part", delete=False) as f:
                np.savez(f, _key=np.array(key), **arrays)  # type: ignore[arg-type]
            Path(f.name).replace(self.folder / f"{key}.npz")
            entries = sorted(self.folder.glob("*.npz"), key=lambda p: p.stat().st_mtime)
            for old in entries[:-MOST]:
                old.unlink(missing_ok=True)
        except OSError:
            return
