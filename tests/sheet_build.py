"""Plates, circuits and nozzles as handbooks tabulate them."""

from __future__ import annotations

from loamwright.physics import circuits, nozzles, plates


def roark_even(ratio: float) -> list[float]:
    """beta and alpha of Roark's Table 11.4, case 1a, by long over short side, nu = 0.3."""
    bent = plates.plate(ratio, 1.0, 1.0, 1.0, 0.3, 1.0, 1.0, 1.0)
    return [bent.stress, bent.deflection]


def roark_turned(ratio: float) -> list[float]:
    """The same with the series along the short side."""
    bent = plates.plate(1.0, ratio, 1.0, 1.0, 0.3, 1.0, 1.0, ratio)
    return [bent.stress, bent.deflection]


def stiffness_one(bent: plates.Bent) -> float:
    """Deflection as Timoshenko tabulates it, times D."""
    return bent.deflection * plates.rigidity(1.0, 1.0, 0.3)


def one_free(ratio: float) -> list[float]:
    """Three edges held, one free, even load: deflection and moment in the middle of the free edge;
    ``ratio`` height over the free edge's length."""
    bent = plates.plate(1.0, ratio, 1.0, 1.0, 0.3, 1.0, 1.0, ratio, high_edge="free")
    return [stiffness_one(bent), bent.stress / 6.0]


def clamped(low: str, high: str) -> float:
    """A square plate under an even load, two edges held and two otherwise."""
    return stiffness_one(plates.plate(1.0, 1.0, 1.0, 1.0, 0.3, 1.0, 1.0, 1.0, low, high))


def hydrostatic(ratio: float) -> float:
    """Deflection in the middle under a pressure that falls to nothing across the plate: half of that
    under an even one, since a plate turned over and laid on itself is loaded evenly."""
    even = plates.plate(1.0, ratio, 1.0, 1.0, 0.3, 1.0, 1.0, ratio)
    water = plates.plate(1.0, ratio, 1.0, 1.0, 0.3, 1.0, 0.0, ratio)
    return water.deflection / even.deflection


def centre_alpha(ratio: float) -> float:
    """alpha of Roark's Table 11.4, case 1b."""
    return plates.centre_deflection(1.0, ratio, 1.0, 1.0, 1.0, 0.3)


def table_drop(gauge_ohm_1000ft: float, feet: float, amps: float) -> float:
    """Voltage lost, from a table's ohms by thousand feet."""
    per_metre = gauge_ohm_1000ft / 304.8
    return circuits.voltage_drop(amps, feet * 0.3048, per_metre)


def awg_ohms_1000ft(gauge: int) -> float:
    """Resistance of a gauge by thousand feet."""
    return circuits.wire_resistance(gauge) * 304.8


def nozzle_l_min(k: float, megapascal: float) -> float:
    """Flow [L/min] of a nozzle with K in L/min by root bar."""
    constant = nozzles.nozzle_constant(k / 6e4, 1e5)
    return nozzles.nozzle_flow(constant, megapascal * 1e6) * 6e4


def nozzle_ratio(ratio: float) -> float:
    """Growth of the flow with that of the pressure."""
    return nozzles.nozzle_flow(1.0, ratio) / nozzles.nozzle_flow(1.0, 1.0)


def tube_kpa(litres_min: float, millimetres: float, metres: float) -> float:
    """Pressure lost along a tube [kPa]."""
    return nozzles.line_loss(litres_min / 6e4, millimetres / 1000.0, metres) / 1000.0
