"""The electricity there is, and where it comes from."""

from __future__ import annotations

from dataclasses import dataclass

from loamwright.habitat.enclosure import Vec3


@dataclass(frozen=True, slots=True)
class Mains:
    """The outlet the habitat is plugged in at: ``voltage`` [V], the ``fuse`` of its circuit [A], the
    ``residual`` current that trips its protective device [A], ``outlet`` and ``board`` (where sockets,
    supplies and controls are fixed) [m]; voltages of the ``fans`` and of the ``pump`` [V]; sizes of
    their supplies at hand, ``fan_supply`` and ``pump_supply`` [W], None where they are to be bought;
    ``others`` what else hangs on the circuit [W]; ``system`` ``metric`` or ``us``, whose cables and
    rules are used."""

    voltage: float = 230.0
    fuse: float = 16.0
    residual: float = 0.03
    outlet: Vec3 = (0.0, 0.0, 0.0)
    board: Vec3 = (0.0, 0.0, 0.0)
    fans: float = 12.0
    pump: float = 24.0
    fan_supply: float | None = None
    pump_supply: float | None = None
    others: float = 0.0
    system: str = "metric"
