"""What leaves and the top of the ground do with water: films, stomata, resistances."""

from __future__ import annotations

from collections.abc import Mapping

from loamwright.habitat.catalogue import PlantType
from loamwright.habitat.ground import Ground
from loamwright.physics import convection, evaporation, leaves, moist_air

LEAF_FILM = 0.10
"""Film on both faces of a leaf [kg per m2 of both]; from memory: crowns hold 0.1 to 0.3 mm for each
layer of leaves."""

LEAF_HEAT = 1900.0
"""Heat capacity of leaves with their stalks [J/(K m2) of one face]: 0.5 kg/m2, mostly water; from
memory."""

LEAF_LENGTH = 0.05
"""Length of a leaf along the air [m]; from memory, middle of usual plants."""

DROP_SPEED = 0.5
"""Mean speed of fine drops with the air they drag along [m/s]; from memory."""

WETNESS = {
    "mix": 0.6, "coir": 0.6, "peat": 0.6, "soil": 0.6, "moss": 0.8, "bark": 0.4, "clay": 0.35,
    "loam-sand": 0.15, "sand": 0.05, "leaf-litter": 0.2,
}  # fmt: skip
"""Water over pore space [1] of a layer by kind, where no water engine has said it; common practice:
mixes are kept moist, sand dry on top."""

LITTER_AIR, LITTER_PORES = 0.85, 0.92
"""Air and pores by volume of leaf litter [1]; from memory."""

DRY_BELOW = 0.10
"""Ground drier than this has no vapour to give."""

CAM = ("tank epiphyte", "succulent", "atmospheric epiphyte", "succulent shrub", "succulent herb")
"""Forms taken to open their stomata at night."""

KINDS = {
    "tree": "woody", "tree-shrub": "woody", "shrub": "woody", "palm": "woody", "climber": "woody",
    "herb": "herb", "grass": "herb", "grass-like": "herb", "ground cover": "herb",
    "herb clump": "herb",
}  # fmt: skip


def stomata(kind: PlantType) -> tuple[float, float]:
    """Stomatal conductance open in light, and in the dark [mol/(m2 s)].

    The low end of the range of the plant's form: these plants live in the shade, and soft leaves
    in still air rarely open wide (from memory, `physics.leaves.OPEN_CONDUCTANCE`).
    """
    if kind.form in CAM:
        low, high = leaves.OPEN_CONDUCTANCE["CAM at night"]
        return 0.005, (low * high) ** 0.5
    low, _ = leaves.OPEN_CONDUCTANCE[KINDS.get(kind.form, "shade or fern")]
    return low, leaves.NIGHT_SHARE * low


def leaf_convection(kind: PlantType, pressure: float) -> float:
    """Factor of h = c |dT|^(1/4) of one face of a leaf in still air [W/(m2 K^1.25)]."""
    film = 298.15
    viscosity = convection.air_viscosity(film) / convection.air_density(film, pressure)
    grashof = convection.GRAVITY / film * LEAF_LENGTH**3 / viscosity**2
    nusselt = leaves.leaf_nusselt_free(grashof)
    return nusselt * convection.air_conductivity(film) / LEAF_LENGTH


def top_of_ground(ground: Ground, wetness: Mapping[str, float] | None) -> tuple[float, float]:
    """Resistance of the ground to evaporation [s/m] and relative humidity in its pores.

    Litter is a dry layer over the water of the layer below (Millington & Quirk 1961; Fick), the
    ground under it resists by its saturation (Sellers et al. 1992). Ground drier than
    `DRY_BELOW` gives none.
    """
    if not ground.layers:
        return 1e9, 0.0
    over = 0.0
    for layer in reversed(ground.layers):
        known = (wetness or {}).get(layer.name)
        saturation = WETNESS.get(layer.kind, 0.0) if known is None else known
        if layer.kind in ("leaf-litter", "fleece"):
            vapour = moist_air.vapour_diffusivity(297.0, 101_325.0)
            slow = evaporation.porous_diffusivity(vapour, LITTER_AIR, LITTER_PORES)
            over += evaporation.dry_layer_resistance(layer.depth, slow)
            continue
        if saturation < DRY_BELOW:
            return 1e9, 0.0
        return over + evaporation.ground_resistance(saturation), 1.0
    return 1e9, 0.0
