"""The desks of a server: who sits at which file."""

from __future__ import annotations

import time
from pathlib import Path

from loamwright import editing
from loamwright.editing import Draft
from loamwright.web.desk import Desk
from loamwright.web.engines import Engines


class Desks:
    """All desks of a server, by who sits at them and what file lies there."""

    MOST_IDLE = 600.0
    """Seconds after the last window has gone until a desk is cleared; its draft stays on disk."""

    def __init__(self, engines: Engines, state: Path) -> None:
        self.engines, self.state = engines, state
        self._desks: dict[tuple[str, Path], Desk] = {}

    def open(self, owner: str, path: Path, root: Path | None) -> Desk:
        """The desk of a file, laid out if it is not there yet; raises `InputError`."""
        self.clear_idle()
        key = (owner, path.resolve())
        desk = self._desks.get(key)
        if desk is None:
            draft = Draft(path, owner, self.state, root)
            desk = self._desks[key] = Desk(draft, self.engines, owner)
            desk.refresh()
        elif desk.draft.on_disk() == editing.CHANGED and not desk.draft.dirty:
            desk.draft.take_disk()
            desk.refresh()
        return desk

    def find(self, owner: str, path: Path) -> Desk | None:
        """The desk of a file if it is laid out."""
        return self._desks.get((owner, path.resolve()))

    def clear_idle(self) -> None:
        """Clear desks that nobody has looked at for long."""
        now = time.monotonic()
        for key, desk in list(self._desks.items()):
            if not desk.watchers and now - desk.used > self.MOST_IDLE:
                desk.end()
                del self._desks[key]
