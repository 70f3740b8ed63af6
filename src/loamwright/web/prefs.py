"""What a person prefers (units, light or dark) and what was opened lately, kept in the state folder."""

from __future__ import annotations

import hashlib
import json
from pathlib import Path
from typing import Any

from loamwright.workflow import write_file

MOST_RECENT = 12

CHOICES: dict[str, tuple[Any, ...]] = {"system": (None, "metric", "us"),
                                       "dark": (None, True, False)}  # fmt: skip


class Prefs:
    """One person's preferences; what is not one of the choices is not taken."""

    def __init__(self, folder: Path, owner: str) -> None:
        name = hashlib.sha256(owner.encode()).hexdigest()[:32]
        self._path = folder / "people" / f"{name}.json"
        self.values: dict[str, Any] = dict.fromkeys(CHOICES)
        for key, value in _read(self._path, {}).items():
            if key in CHOICES and value in CHOICES[key]:
                self.values[key] = value

    def set(self, key: str, value: Any) -> None:
        """Prefer something."""
        if value not in CHOICES[key]:
            raise ValueError(f"{key} cannot be {value!r}")
        self.values[key] = value
        _write(self._path, self.values)


def recent(folder: Path) -> list[Path]:
    """Files opened lately that are still there, the last one first."""
    found = [Path(p) for p in _read(folder / "recent.json", []) if isinstance(p, str)]
    return [p for p in found if p.is_file()]


def opened(folder: Path, path: Path) -> None:
    """Remember that a file was opened."""
    rest = [p for p in recent(folder) if p != path]
    _write(folder / "recent.json", [str(p) for p in [path, *rest][:MOST_RECENT]])


def _read(path: Path, nothing: Any) -> Any:
    try:
        found = json.loads(path.read_text("utf-8"))
    except (OSError, ValueError):
        return nothing
    return found if isinstance(found, type(nothing)) else nothing


def _write(path: Path, data: Any) -> None:
    try:
        path.parent.mkdir(parents=True, exist_ok=True, mode=0o700)
        write_file(path, json.dumps(data), force=True)
    except OSError:
        return
