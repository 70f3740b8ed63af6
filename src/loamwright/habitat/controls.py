"""Controllers and the daily and yearly schedule."""

from __future__ import annotations

from dataclasses import dataclass

KINDS: tuple[str, ...] = ("thermostat", "dimming-thermostat", "cooling", "humidistat", "pulse-mist")


@dataclass(frozen=True, slots=True)
class Control:
    """A controller; what it drives names it.

    ``thermostat``: heat on below ``low``, off above ``high`` [K]; ``dimming-thermostat``: full below
    ``low``, off above ``high``, in proportion between; ``cooling``: on above ``high``, off below
    ``low`` [K]; ``humidistat``: on above ``high``, off below ``low`` (share of saturation; fans);
    ``pulse-mist``: on below ``low``, in pulses of ``pulse`` seconds each ``pause`` seconds, until
    above ``high``. ``night_low`` and ``night_high`` take their place outside the day's hours; None:
    off at night. ``probe`` a site, ``lag`` the probe's time constant [s], ``cut_out`` an independent
    limit [K] at ``cut_out_probe`` beyond which the heat is cut.
    """

    name: str
    kind: str
    probe: str
    low: float
    high: float
    night_low: float | None = None
    night_high: float | None = None
    lag: float = 60.0
    pulse: float = 10.0
    pause: float = 300.0
    cut_out: float | None = None
    cut_out_probe: str = ""


@dataclass(frozen=True, slots=True)
class Schedule:
    """The day's hours: ``day`` (start, end) seconds after midnight in the middle seasons, ``ramp``
    seconds of dawn and of dusk for lamps that can be dimmed, ``winter`` and ``summer`` hours where
    they differ (by table or from ``latitude``), ``latitude`` [rad] or None."""

    day: tuple[float, float] = (25200.0, 68400.0)
    ramp: float = 0.0
    winter: tuple[float, float] | None = None
    summer: tuple[float, float] | None = None
    latitude: float | None = None

    def hours(self, season: str) -> tuple[float, float]:
        """Start and end of the day in a season (``winter``, ``summer``, else the day itself)."""
        return {"winter": self.winter, "summer": self.summer}.get(season) or self.day
