"""Catalogue entries: generic materials, covers, lamps, plants, animals and components of a mix."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from loamwright.habitat.sources import Sourced


@dataclass(frozen=True, slots=True)
class Material(Sourced):
    """A solid: diffuse reflectance in three optical bands, and thermal properties.

    ``reflect_*`` fractions 0..1; ``conductivity`` [W/(m K)], ``density`` [kg/m3],
    ``heat_capacity`` [J/(kg K)], ``emissivity`` 0..1. ``clear`` marks a see-through sheet whose
    normal transmittances stand in ``transmit_uvb/uva/par/nir/fir`` (at its listed thickness).
    Of a sheet also Young's modulus ``young`` [Pa], ``poisson`` [1], the share of its stiffness that is
    left under a load of years ``creep`` [1], and the bending stress it bears for years ``strength``
    [Pa], safety in it.
    """

    reflect_uv: float
    reflect_par: float
    reflect_nir: float
    conductivity: float | None = None
    density: float | None = None
    heat_capacity: float | None = None
    emissivity: float | None = None
    clear: bool = False
    transmit: tuple[float, float, float, float, float] = (0.0, 0.0, 0.0, 0.0, 0.0)
    refractive_index: float = 1.52
    young: float | None = None
    poisson: float | None = None
    creep: float | None = None
    strength: float | None = None


@dataclass(frozen=True, slots=True)
class Cover(Sourced):
    """What lies over an opening or round a lamp: a mesh (``pitch`` and ``wire`` [m], square,
    round wires), a guard (the same with a wide pitch) or a clear sheet (``sheet`` names a
    clear material). ``reflect`` is the diffuse reflectance of the wire."""

    kind: str  # "mesh" | "sheet" | "open"
    pitch: float = 0.0
    wire: float = 0.0
    reflect: float = 0.3
    sheet: Material | None = None


@dataclass(frozen=True, slots=True)
class Spectrum(Sourced):
    """A relative spectrum: ``wavelength`` [nm] rising, ``power`` relative, both same length."""

    wavelength: tuple[float, ...]
    power: tuple[float, ...]


@dataclass(frozen=True, slots=True)
class LampType(Sourced):
    """A generic lamp.

    shape: ``tube`` (Lambertian cylinder, ``length`` x ``diameter``, optional ``reflector_width``),
    ``bar`` (Lambertian rectangle ``length`` x ``width``), ``spot`` (disk of ``diameter`` with
    a cosine-power beam of full angle ``beam_angle`` [rad] at half intensity, in which the share
    ``beam_share`` of each band leaves; the rest leaves Lambertian from the same disk), ``measured``
    (an intensity table), all lengths [m].

    ``power`` electrical [W]; ``band_watts`` radiant flux leaving the lamp (or its reflector)
    in each of `bands.BANDS` [W], new and fully on, thermal infrared of its own hot glass or face
    included: what is left of the power warms the lamp and the air round it. ``per_watt`` maps a
    quantity to its value per watt in each band (see `physics.spectra.weights`): ``uvi``,
    ``actinic``, ``ppfd``, ``lux``.
    ``spread`` relative standard uncertainty of output. ``life`` [h] after which output has fallen
    to ``end_share`` of new; ``min_distance`` [m] from the lamp to anything alive.
    ``table``: (vertical angles [rad] from the aim, horizontal angles [rad], candela-like values
    per watt as rows per horizontal angle) for ``measured``.
    """

    shape: str
    power: float
    band_watts: tuple[float, float, float, float, float]
    per_watt: Mapping[str, tuple[float, float, float, float, float]]
    length: float = 0.0
    width: float = 0.0
    diameter: float = 0.0
    reflector_width: float = 0.0
    beam_angle: float = 0.0
    beam_share: tuple[float, float, float, float, float] = (1.0, 1.0, 1.0, 1.0, 1.0)
    spread: float = 0.15
    life: float | None = None
    end_share: float | None = None
    min_distance: float | None = None
    spectrum: Spectrum | None = None
    table: tuple[tuple[float, ...], tuple[float, ...], tuple[tuple[float, ...], ...]] | None = None
    group: str = ""


@dataclass(frozen=True, slots=True)
class PlantType(Sourced):
    """A plant: crown shape, leaves, and what it needs of light.

    ``leaf_area_index`` [m2 leaf per m2 of crown seen from above]; ``crown_base`` height share
    at which the crown begins (0..1); ``absorb_*`` leaf absorptance per optical band; light needs
    ``dli`` [mol/(m2 d)] or, where nothing better is known, ``lux``. ``mature_*`` [m]; ``growth``
    its pace: ``slow``, ``medium``, ``fast``.
    """

    latin: str
    form: str
    leaf_area_index: float
    crown_base: float
    absorb_uv: float
    absorb_par: float
    absorb_nir: float
    dli: tuple[float | None, float | None] = (None, None)
    lux: tuple[float | None, float | None] = (None, None)
    temperature: tuple[float | None, float | None] = (None, None)
    humidity_min: float | None = None
    mature_height: float | None = None
    mature_spread: float | None = None
    rooting_depth: float | None = None
    water: str = ""
    growth: str = ""
    toxicity: str = ""


@dataclass(frozen=True, slots=True)
class Species(Sourced):
    """An animal: size, habits, and what it needs.

    ``ferguson_zone`` 1..4 or None; ``body_length`` of an adult, snout to vent or straight along the
    carapace, ``length_max`` the longest known so, ``total_length`` with the tail, greatest, all [m];
    ``mass`` [kg]; temperature bands [K]; humidity fractions. ``clutch`` eggs or young at a time (least
    and most known, or one mean twice); ``incubation`` [s] at ``incubation_temperature`` [K];
    ``reproduction`` ``oviparous`` or ``viviparous``; ``egg_site`` where eggs are laid and ``sex_ratio``
    of a group (males.females), in words. None, or empty, where the catalogue has none.
    """

    latin: str
    animal_class: str
    activity: str
    stratum: str
    ferguson_zone: int | None = None
    body_length: float | None = None
    mass: float | None = None
    preferred_body: tuple[float | None, float | None] = (None, None)
    voluntary_max: float | None = None
    critical_max: float | None = None
    critical_min: float | None = None
    basking_surface: tuple[float | None, float | None] = (None, None)
    air_warm: float | None = None
    air_cool: float | None = None
    night: tuple[float | None, float | None] = (None, None)
    humidity_day: tuple[float | None, float | None] = (None, None)
    humidity_night: tuple[float | None, float | None] = (None, None)
    group_max: int | None = None
    family: str = ""
    length_max: float | None = None
    total_length: float | None = None
    reproduction: str = ""
    clutch: tuple[float | None, float | None] = (None, None)
    egg_site: str = ""
    incubation: tuple[float | None, float | None] = (None, None)
    incubation_temperature: float | None = None
    sex_ratio: str = ""
