"""Pictures of the pack drawn ahead, on another core, while the rest of it is worked out.

Drawing takes longer than all pages together. It is done by a process of its own into the folder of kept
results, from which the pack takes pictures anyway: where that process fails, they are drawn as if
it had never been.
"""

from __future__ import annotations

import multiprocessing
import os
from collections.abc import Callable
from contextlib import suppress
from pathlib import Path
from typing import TYPE_CHECKING, Any

from loamwright.pages import draw_days, draw_sections
from loamwright.workflow import Checked, Note, check_habitat, quiet, results_in

if TYPE_CHECKING:
    from loamwright.habitat.habitat import Habitat
    from loamwright.report.overview import Picture

Named = list[tuple[str, "Picture"]]
"""Pictures, each with the name of its file."""

PATIENCE = 120.0
"""Seconds that the pack waits at most for pictures drawn ahead before it draws them itself."""


def begin(habitat: Habitat, system: str, kept: Path | None) -> Callable[[], None]:
    """Begin to draw a habitat's pictures, and give what waits for them.

    Nothing is begun without a folder of kept results, on one core, or in a process that may have no
    other (an engine process of the workbench).
    """
    alone = (os.cpu_count() or 1) < 2 or multiprocessing.current_process().daemon
    if kept is None or alone:
        return lambda: None
    process = multiprocessing.get_context("spawn").Process(
        target=draw, args=(habitat, system, kept), daemon=True
    )
    process.start()
    return lambda: process.join(PATIENCE)


def draw(habitat: Habitat, system: str, kept: Path) -> None:
    """Draw the cover, the light and the days, and keep them; what goes wrong is said by the pack
    itself, which then draws them."""
    with suppress(Exception):
        store = results_in(kept)
        checked = check_habitat(habitat, only=("light", "climate"), kept=kept)
        light(checked, system, store)
        days(checked, system, store)
        cover(habitat, system, store)


def cover(habitat: Habitat, system: str, store: Any) -> bytes:
    """The picture on the cover, as JPEG."""
    from loamwright.report.overview import Picture
    from loamwright.report.pack_cover import cover_jpeg

    def make() -> Named:
        return [("cover.jpg", Picture(cover_jpeg(habitat), "jpg", ""))]

    return kept_pictures(store, habitat, system, "pack-cover", make)[0][1].content


def light(checked: Checked, system: str, store: Any, note: Note = quiet) -> Named:
    """Sections of the light; none without lamps."""
    if not checked.habitat.lamps:
        return []
    return kept_pictures(store, checked.habitat, system, "pack-light",
                         lambda: draw_sections(checked, system, note, "svg", True))  # fmt: skip


def days(checked: Checked, system: str, store: Any, note: Note = quiet) -> Named:
    """Pictures of the typical days."""
    return kept_pictures(store, checked.habitat, system, "pack-days",
                         lambda: draw_days(checked, system, note, "svg", True))  # fmt: skip


def kept_pictures(
    store: Any, habitat: Habitat, system: str, kind: str, make: Callable[[], Named]
) -> Named:
    """Pictures from what is kept, or made and kept."""
    import json

    import numpy as np

    from loamwright.report.overview import Picture

    key = store.key(kind, habitat, system)
    arrays = store.get(key)
    if arrays is not None:
        told = json.loads(str(arrays["told"]))
        return [
            (one.pop("name"), Picture(arrays[f"{k}"].tobytes(), **one))
            for k, one in enumerate(told)
        ]
    made = make()
    told = [
        {"name": name, "kind": p.kind, "caption": p.caption, "alt": p.alt, "lead": p.lead}
        for name, p in made
    ]
    contents = {f"{k}": np.frombuffer(p.content, np.uint8) for k, (_, p) in enumerate(made)}
    store.put(key, {"told": np.array(json.dumps(told)), **contents})
    return made
