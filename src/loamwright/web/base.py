"""What every page of one server stands on: how it is set up, its desks and engines, its pages."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

from loamwright import editing
from loamwright.errors import InputError, Problem
from loamwright.web import prefs
from loamwright.web.desk import Desk
from loamwright.web.desks import Desks
from loamwright.web.engines import Engines

LOCAL = frozenset({"127.0.0.1", "localhost", "::1"})
"""Names of this machine itself."""


@dataclass(frozen=True)
class Page:
    """A page of the workbench: its ``path`` and ``title``, its place in the ``order`` of the
    pages, and what builds it into a view (`shell.View`)."""

    path: str
    title: str
    order: int
    build: Callable[[Any], None]


@dataclass(frozen=True)
class Settings:
    """How the workbench is set up.

    ``root`` the folder whose files may be opened and where new ones are written; ``state`` where
    drafts and preferences lie; ``file`` what is opened first; ``hosts`` names the server answers to
    (empty: any); ``phrase`` the hashed pass-phrase, None where none is asked for.
    """

    root: Path
    state: Path = field(default_factory=editing.state_folder)
    file: Path | None = None
    hosts: frozenset[str] = LOCAL
    phrase: bytes | None = None


class Workbench:
    """What all pages of one server share."""

    def __init__(self, settings: Settings, pages: tuple[Page, ...]) -> None:
        self.settings = settings
        self.engines = Engines()
        self.desks = Desks(self.engines, settings.state)
        self.pages = pages
        self.known: set[Path] = {settings.file.resolve()} if settings.file else set()
        if settings.phrase is None:
            # On the machine itself a person may go on with what they opened from a shell before.
            self.known |= {p.resolve() for p in prefs.recent(settings.state)}

    def path_of(self, name: str) -> Path:
        """The file that an address names, if it may be opened; raises `InputError`."""
        if not name:
            raise InputError(Problem("no file is named"))
        path = (self.settings.root / name).resolve()
        if not path.is_relative_to(self.settings.root.resolve()) and path not in self.known:
            raise InputError(Problem("lies outside of the folder this workbench serves", file=name))
        return path

    def name_of(self, path: Path) -> str:
        """How an address names a file."""
        root = self.settings.root.resolve()
        full = path.resolve()
        return str(full.relative_to(root)) if full.is_relative_to(root) else str(full)

    def desk(self, owner: str, name: str) -> Desk:
        """The desk of a file; raises `InputError`."""
        path = self.path_of(name)
        desk = self.desks.open(owner, path, None)
        prefs.opened(self.settings.state, path)
        return desk

    def habitat_files(self) -> list[Path]:
        """Files of the served folder that may be habitats, the latest first."""
        found = []
        for pattern in ("*.yaml", "*.yml", "*/*.yaml", "*/*.yml"):
            found += [p for p in self.settings.root.glob(pattern) if p.is_file()]
        found = [p for p in found if not any(part.startswith(".") for part in p.parts[1:])]
        return sorted(found, key=lambda p: -p.stat().st_mtime)[:40]
