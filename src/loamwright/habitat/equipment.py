"""Lamps in their places (fans, nozzles and controls join with the climate engine)."""

from __future__ import annotations

from dataclasses import dataclass

from loamwright.habitat.catalogue import Cover, LampType
from loamwright.habitat.enclosure import Vec3


@dataclass(frozen=True, slots=True)
class Lamp:
    """A lamp: ``at`` its centre, ``aim`` a unit vector the way it shines, ``along`` a unit
    vector along its long axis (normal to ``aim``), ``dim`` 0..1, ``hours_run`` since new [h],
    ``on`` (start, end) seconds after midnight, ``guard`` round it, ``control`` the controller that
    drives it, ``follows_day`` True where its hours are the day's, ``dimmable`` where it follows
    dawn and dusk, ``protection`` its ingress protection (``IP65``), empty where not said."""

    name: str
    type: LampType
    at: Vec3
    aim: Vec3 = (0.0, 0.0, -1.0)
    along: Vec3 = (1.0, 0.0, 0.0)
    dim: float = 1.0
    hours_run: float = 0.0
    on: tuple[float, float] = (25200.0, 68400.0)
    guard: Cover | None = None
    control: str = ""
    follows_day: bool = False
    dimmable: bool = False
    protection: str = ""

    @property
    def hours_a_day(self) -> float:
        """Hours lit each day [h]; a lamp may be lit across midnight."""
        start, end = self.on
        span = end - start
        if span <= 0:
            span += 86400.0
        return span / 3600.0
