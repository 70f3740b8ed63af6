"""Adaptors that let a reference sheet speak of moist air in degrees Celsius."""

from __future__ import annotations

from loamwright.physics import moist_air

ZERO = moist_air.ZERO_CELSIUS
SEA = moist_air.STANDARD_PRESSURE


def saturation(celsius: list[float]) -> list[float]:
    return [moist_air.saturation_pressure(ZERO + t) for t in celsius]


def saturated(celsius: list[float]) -> list[dict[str, float]]:
    """States of saturated air at sea level."""
    return [parts(t, 1.0, SEA) for t in celsius]


def parts(celsius: float, humidity: float, pressure: float) -> dict[str, float]:
    """All that a sheet may ask of one state of moist air."""
    t = ZERO + celsius
    p = moist_air.vapour_pressure_at(t, humidity)
    w = moist_air.humidity_ratio(p, pressure)
    return {
        "p": p,
        "ratio": w,
        "dew": moist_air.dew_point(p) - ZERO,
        "wet": moist_air.wet_bulb(t, w, pressure) - ZERO,
        "volume": moist_air.moist_air_volume(t, w, pressure),
        "enthalpy": moist_air.moist_air_enthalpy(t, w) / 1000.0,
        "density": moist_air.moist_air_density(t, w, pressure),
        "vapour": moist_air.vapour_density(p, t) * 1000.0,
        "deficit": moist_air.vapour_pressure_deficit(t, p),
        "humidity": 100.0 * moist_air.relative_humidity_at(t, p),
    }


def saturated_value(name: str, celsius: list[float]) -> list[float]:
    return [state[name] for state in saturated(celsius)]


def state(celsius: float, humidity: float, names: list[str]) -> list[float]:
    """Values of air at sea level, by temperature and relative humidity."""
    found = parts(celsius, humidity, SEA)
    return [found[name] for name in names]


def ratios(celsius: list[float], humidity: list[float]) -> list[float]:
    return [parts(t, rh, SEA)["ratio"] for t, rh in zip(celsius, humidity, strict=True)]


def psychrometer(celsius: float, wet: float, names: list[str]) -> list[float]:
    """Values of air at sea level, by dry and wet bulb."""
    w = moist_air.wet_bulb_ratio(ZERO + celsius, ZERO + wet, SEA)
    p = moist_air.vapour_pressure_from_ratio(w, SEA)
    found = parts(celsius, moist_air.relative_humidity_at(ZERO + celsius, p), SEA)
    return [found[name] for name in names]


def enthalpy(celsius: float, ratio: float) -> float:
    return moist_air.moist_air_enthalpy(ZERO + celsius, ratio) / 1000.0


def volume(celsius: float, ratio: float, pressure: float) -> float:
    return moist_air.moist_air_volume(ZERO + celsius, ratio, pressure)


def density(celsius: float, ratio: float, pressure: float) -> float:
    return moist_air.moist_air_density(ZERO + celsius, ratio, pressure)


def pressures(altitudes: list[float]) -> list[float]:
    return [moist_air.standard_pressure(z) for z in altitudes]


def warm_pressures(altitudes: list[float]) -> list[float]:
    """Altitude pressure with 20 degC at the sea [kPa]."""
    return [moist_air.standard_pressure(z, 293.0) / 1000.0 for z in altitudes]


def latent(celsius: list[float]) -> list[float]:
    return [moist_air.latent_heat(ZERO + t) / 1000.0 for t in celsius]


def dry_density(celsius: list[float]) -> list[float]:
    return [moist_air.moist_air_density(ZERO + t, 0.0, SEA) for t in celsius]


def diffusivity(celsius: float) -> float:
    return moist_air.vapour_diffusivity(ZERO + celsius, SEA)


def psychrometric(celsius: float, altitude: float) -> float:
    """Psychrometric constant in dry air [kPa/K], altitude pressure as in FAO-56."""
    p = moist_air.standard_pressure(altitude, 293.0)
    return moist_air.psychrometric_constant(ZERO + celsius, 0.0, p) / 1000.0


def mean_saturation(celsius: list[float]) -> float:
    return sum(saturation(celsius)) / len(celsius) / 1000.0


def slope(celsius: float) -> float:
    return moist_air.saturation_slope(ZERO + celsius) / 1000.0


def mean_vapour_pressure(celsius: list[float], humidity: list[float]) -> float:
    pairs = zip(celsius, humidity, strict=True)
    both = [moist_air.vapour_pressure_at(ZERO + t, rh) for t, rh in pairs]
    return sum(both) / len(both) / 1000.0


def sweating_surface(air: float, surface: float) -> float:
    """Relative humidity of the air at which a surface starts to sweat, found by the dew point."""
    low, high = 0.01, 1.0
    for _ in range(60):
        middle = 0.5 * (low + high)
        dew = moist_air.dew_point(moist_air.vapour_pressure_at(ZERO + air, middle))
        low, high = (middle, high) if dew < ZERO + surface else (low, middle)
    return low
