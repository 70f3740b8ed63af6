"""The habitat as a binary glTF 2.0 model: metres, y up, front towards +z; the same bytes every time."""

from __future__ import annotations

from typing import Any

import numpy as np

from loamwright.habitat.habitat import Habitat
from loamwright.report.plain import clean
from loamwright.report.solids import Solid, solids

TO_GLTF = np.array([[1.0, 0.0, 0.0], [0.0, 0.0, 1.0], [0.0, -1.0, 0.0]])
"""From the habitat's axes (x right, y back, z up) to glTF's (x right, y up, z towards the viewer)."""


def gltf(habitat: Habitat) -> bytes:
    """Everything there is to see as one ``.glb``: each thing a mesh of its own name with its colour."""
    import trimesh

    scene: Any = trimesh.Scene(base_frame="habitat")
    names: dict[str, int] = {}
    for solid in solids(habitat):
        name = f"{solid.kind}: {clean(solid.name, 60)}"
        names[name] = names.get(name, 0) + 1
        if names[name] > 1:
            name = f"{name} ({names[name]})"
        scene.add_geometry(_mesh(solid, name), node_name=name, geom_name=name)
    made = scene.export(file_type="glb")
    assert isinstance(made, bytes)
    return made


def _mesh(solid: Solid, name: str) -> Any:
    """Triangles as a mesh with a material of the standard's metal-and-roughness model."""
    import trimesh
    from trimesh.visual import material as looks

    kit: Any = looks
    corners = solid.triangles.reshape(-1, 3) @ TO_GLTF.T
    points, index = np.unique(np.round(corners, 6), axis=0, return_inverse=True)
    faces = index.reshape(-1, 3)
    whole = (
        (faces[:, 0] != faces[:, 1]) & (faces[:, 1] != faces[:, 2]) & (faces[:, 0] != faces[:, 2])
    )
    value = [int(solid.color[k : k + 2], 16) for k in (1, 3, 5)]
    material = kit.PBRMaterial(
        name=name,
        baseColorFactor=[*value, round(255 * solid.alpha)],
        metallicFactor=0.0,
        roughnessFactor=0.1 if solid.kind == "glass" else 0.85,
        emissiveFactor=[v / 255.0 for v in value] if solid.lit else [0.0, 0.0, 0.0],
        alphaMode="BLEND" if solid.alpha < 1.0 else "OPAQUE",
        doubleSided=solid.kind == "plant",
    )
    mesh: Any = trimesh.Trimesh(points, faces[whole], process=False)
    visual: Any = trimesh.visual
    mesh.visual = visual.TextureVisuals(material=material)
    return mesh
