"""Branches, tubes, blocks, rocks and scanned pieces."""

from __future__ import annotations

from dataclasses import dataclass

from loamwright.habitat.catalogue import Material
from loamwright.habitat.enclosure import Vec3


@dataclass(frozen=True, slots=True)
class Piece:
    """A piece of hardscape.

    shape ``branch``: solid round rod from ``start`` to ``end`` of ``diameter``;
    ``tube``: the same but hollow and open at both ends, ``wall`` thick;
    ``block``: axis-parallel box of ``size`` whose lower face is centred on ``at``;
    ``rock``: ellipsoid of ``size`` (full axes) whose lowest point is ``at``, sunk by a
    quarter of its height is not implied: it stands as given;
    ``mesh``: ``vertices`` and ``faces`` already scaled and placed [m].
    ``fixing`` in words; ``screws`` that hold it and the area that is ``glued`` [m2], None where not
    said; ``footing`` what carries it down to the hard floor through the ground, in words.
    """

    name: str
    shape: str
    material: Material
    start: Vec3 = (0.0, 0.0, 0.0)
    end: Vec3 = (0.0, 0.0, 0.0)
    diameter: float = 0.0
    wall: float = 0.0
    at: Vec3 = (0.0, 0.0, 0.0)
    size: Vec3 = (0.0, 0.0, 0.0)
    vertices: tuple[Vec3, ...] = ()
    faces: tuple[tuple[int, int, int], ...] = ()
    fixing: str = ""
    screws: int | None = None
    glued: float | None = None
    footing: str = ""
