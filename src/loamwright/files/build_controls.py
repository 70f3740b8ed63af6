"""Controls: from what the file says to limits, probes and what each may drive."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from loamwright.files.build_context import Build
from loamwright.files.document import Loc
from loamwright.files.field_words import IDLE
from loamwright.files.schema_climate import (
    AnyControl,
    DimmingThermostatPart,
    PulseMistPart,
    ThermostatPart,
)
from loamwright.habitat.controls import Control
from loamwright.habitat.sites import Site

DRIVES = {
    "thermostat": "lamp",
    "dimming-thermostat": "lamp",
    "cooling": "fan",
    "humidistat": "fan",
    "pulse-mist": "mist",
}
"""What each kind of control drives."""

_PAIRS = {
    "thermostat": ("on_below", "off_above"),
    "cooling": ("off_below", "on_above"),
    "humidistat": ("off_below", "on_above"),
    "pulse-mist": ("on_below", "off_above"),
}
"""Keys of the lower and the upper limit, by kind."""

LAG, PULSE, PAUSE = 60.0, 10.0, 300.0
"""Usual time constant of a probe, pulse and time between pulses [s]."""

TEMPERATURE_STEP, BAND, HUMIDITY_STEP = 1.0, 2.0, 0.05
"""Usual hysteresis and dimming band [K], and hysteresis of humidity (share)."""

Limits = tuple[float, float]


def build_controls(
    build: Build, parts: Mapping[str, AnyControl], sites: Mapping[str, Site]
) -> dict[str, Control]:
    """The controls by name, in the order of the file."""
    made: dict[str, Control] = {}
    for name, part in parts.items():
        if not 0 < len(name) <= 80 or name != name.strip():
            message = "is no name: 1 to 80 characters, without blanks at its ends"
            build.say(("controls", name), message, key=True)
        made[name] = _Maker(build, name, part, sites).control()
    return made


class _Maker:
    """Makes one control; where something is wrong, with a stand-in after saying so."""

    def __init__(
        self, build: Build, name: str, part: AnyControl, sites: Mapping[str, Site]
    ) -> None:
        self.build, self.name, self.part, self.sites = build, name, part, sites
        self.loc: tuple[str | int, ...] = ("controls", name)
        self.where = f"controls[{name}]"
        self.humid = part.kind in ("humidistat", "pulse-mist")

    def control(self) -> Control:
        """The control."""
        part = self.part
        limits = self._limits()
        night = self._night(limits)
        self._site("probe", part.probe)
        lag = part.lag
        if lag is None:
            self.build.default(f"{self.where}.lag", self._show(LAG, "time"))
        pulse, pause = self._pulses()
        cut_out, cut_out_probe = self._cut_out(limits)
        return Control(
            self.name,
            part.kind,
            part.probe,
            limits[0],
            limits[1],
            night[0] if night else None,
            night[1] if night else None,
            LAG if lag is None else float(lag),
            pulse,
            pause,
            cut_out,
            cut_out_probe,
        )

    def _say(self, key: str, message: str, *, at_key: bool = False) -> None:
        self.build.say((*self.loc, key), message, key=at_key)

    def _show(self, value: float, kind: str | None = None) -> str:
        return self.build.show(value, kind or ("share" if self.humid else "temperature"))

    def _site(self, key: str, named: str) -> None:
        if named not in self.sites:
            self.build.unknown_name((*self.loc, key), named, "site", self.sites)

    # -- limits ------------------------------------------------------------------------------

    def _step(self) -> float:
        """From the lower limit to the upper, where 'set' gives their middle."""
        part = self.part
        key = "band" if isinstance(part, DimmingThermostatPart) else "hysteresis"
        given = getattr(part, key)
        if given is not None:
            return float(given)
        usual = HUMIDITY_STEP if self.humid else BAND if key == "band" else TEMPERATURE_STEP
        if part.middle is not None:
            kind = "share" if self.humid else "temperature_difference"
            self.build.default(f"{self.where}.{key}", self._show(usual, kind))
        return usual

    def _round(self, key: str, middle: float) -> Limits:
        """Limits round a middle."""
        half = self._step() / 2.0
        low, high = middle - half, middle + half
        if self.humid and not (low >= 0.0 and high <= 1.0):
            beyond = self._show(high if high > 1.0 else low)
            message = f"with its hysteresis it switches at {beyond}, which no air reaches"
            self._say(key, message)
        return low, high

    def _limits(self) -> Limits:
        part = self.part
        if isinstance(part, DimmingThermostatPart):
            return self._round("set", float(part.middle))
        low_key, high_key = _PAIRS[part.kind]
        pair = [key for key in (low_key, high_key) if getattr(part, key) is not None]
        if part.middle is not None:
            for key in pair:
                self._say(key, "is here, and 'set' too; keep one way to say it", at_key=True)
            return self._round("set", float(part.middle))
        if part.hysteresis is not None:
            self._say("hysteresis", "goes with 'set'", at_key=True)
        if not pair:
            message = f"needs 'set', or '{low_key}' with '{high_key}'"
            self.build.say(self.loc, message, key=True)
        elif len(pair) == 1:
            other = high_key if pair[0] == low_key else low_key
            self._say(pair[0], f"needs '{other}' beside it")
        else:
            return self._pair(self.loc, part, low_key, high_key)
        return (0.5, 0.6) if self.humid else (293.15, 294.15)  # a stand-in: the problem is told

    def _pair(self, loc: Loc, part: Any, low_key: str, high_key: str) -> Limits:
        low, high = getattr(part, low_key), getattr(part, high_key)
        if low >= high:
            message = f"{low.text} is not below {high_key}, {high.text}: it would switch for ever"
            self.build.say((*loc, low_key), message)
        return float(low), float(high)

    def _night(self, day: Limits) -> Limits | None:
        """Limits at night, None where it is off then."""
        night = self.part.night
        if night is None:
            self.build.default(f"{self.where}.night", "as by day", "nothing else is said")
            return day
        if night == "off":
            return None
        if isinstance(night, float):
            if self.part.middle is None:
                low_key, high_key = _PAIRS[self.part.kind]
                message = f"a single value goes with 'set'; write {{{low_key}: .., {high_key}: ..}}"
                self._say("night", message)
                return day
            return self._round("night", float(night))
        return self._pair((*self.loc, "night"), night, *_PAIRS[self.part.kind])

    # -- the rest ----------------------------------------------------------------------------

    def _pulses(self) -> tuple[float, float]:
        part = self.part
        if not isinstance(part, PulseMistPart):
            return PULSE, PAUSE
        times = []
        for key, usual in (("pulse", PULSE), ("pause", PAUSE)):
            given = getattr(part, key)
            if given is None:
                self.build.default(f"{self.where}.{key}", self._show(usual, "time"))
            times.append(usual if given is None else float(given))
        pulse, pause = times
        if pulse >= pause:
            shown = [self._show(t, "time") for t in times]
            key = "pause" if part.pause is not None else "pulse"
            self._say(key, f"a pulse of {shown[0]} each {shown[1]} never ends")
        return pulse, pause

    def _cut_out(self, limits: Limits) -> tuple[float | None, str]:
        part = self.part
        if not isinstance(part, ThermostatPart | DimmingThermostatPart):
            return None, ""
        if part.cut_out is None:
            if part.cut_out_probe is not None:
                self._say("cut_out_probe", "needs 'cut_out' with its temperature", at_key=True)
            return None, ""
        probe = part.cut_out_probe
        if probe is None:
            probe = part.probe
            self.build.default(f"{self.where}.cut_out_probe", probe, "the control's own place")
        else:
            self._site("cut_out_probe", probe)
        if probe == part.probe and part.cut_out <= limits[1]:
            high = self._show(limits[1])
            message = f"{part.cut_out.text} cuts the heat before the control stops it, at {high}"
            self._say("cut_out", message)
        return float(part.cut_out), probe


def driven_by(
    build: Build, loc: Loc, name: str | None, what: str, controls: Mapping[str, Control]
) -> Control | None:
    """The control that something names, after saying where it is none or drives other things."""
    if name is None:
        return None
    found = controls.get(name)
    place = (*loc, "control")
    if found is None:
        build.unknown_name(place, name, "control", controls)
        return None
    if DRIVES[found.kind] != what:
        fitting = " or ".join(kind for kind, drives in DRIVES.items() if drives == what)
        right = DRIVES[found.kind]
        build.say(
            place,
            f"{name!r} is of kind {found.kind}, which drives {_MANY[right]}; {_MANY[what]} "
            f"{'takes' if what == 'mist' else 'take'} {fitting}",
        )
        return None
    return found


_MANY = {"lamp": "lamps", "fan": "fans", "mist": "the mist"}


def check_driven(build: Build, controls: Mapping[str, Control]) -> None:
    """Say which controls drive nothing; faulty entries may name them too."""
    named: set[str] = set()
    for section in ("lamps", "air", "mist"):
        found = build.doc.get((section,))
        entries = [found] if section == "mist" else found
        if found is None:
            continue
        if not isinstance(entries, list) or not all(isinstance(e, dict) for e in entries):
            return  # the section cannot be read: nobody knows what it would name
        named |= {e["control"].strip() for e in entries if isinstance(e.get("control"), str)}
    for name in controls:
        if name not in named:
            build.say(("controls", name), IDLE, key=True)
