"""Scanned or modelled pieces: STL, OBJ, PLY and glTF into triangles.

Nothing but the named file (and, for ``.gltf``, buffer files beside it or below) is opened;
materials and pictures are never read. Coordinates stay in the file's own unit, except that
glTF, which is y-up by its standard, is turned z-up: (x, y, z) becomes (x, -z, y), so that the
front of a model (+z in glTF) faces the front of the habitat (-y).
"""

from __future__ import annotations

import logging
import math
import re
import warnings
from collections.abc import Callable
from dataclasses import dataclass
from io import BytesIO
from pathlib import Path
from typing import TYPE_CHECKING

from loamwright.errors import InputError, Problem
from loamwright.files.meshes_limits import too_many_faces

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

    Vertices = NDArray[np.float64]
    Faces = NDArray[np.int64]

MAX_BYTES = 64_000_000
"""Largest mesh file read."""

MAX_FACES = 200_000
"""Most triangles of one piece: shadows of a root or a rock need a few thousand."""

MAX_EXTENT = 1e9
"""Coordinates beyond this, in whatever unit, are damage and not a piece of wood."""

ENDINGS: tuple[str, ...] = (".stl", ".obj", ".ply", ".glb", ".gltf")


@dataclass(frozen=True, slots=True)
class MeshReport:
    """What a mesh is like.

    ``holes`` counts the loops of open edges; a mesh with holes casts its shadow all the same, but
    has no inside: ``volume`` is None unless the mesh is ``watertight`` (every edge between two
    triangles that run the same way round). ``extent`` along x, y, z; lengths and volume are in
    the unit of the vertices.
    """

    vertices: int
    faces: int
    watertight: bool
    holes: int
    volume: float | None
    area: float
    extent: tuple[float, float, float]


def default_unit(path: Path) -> float:
    """What one unit of a file measures where nobody says [m].

    A metre in glTF, by its standard; a millimetre in the others, which carry no unit (common
    practice of scanners and printers, no source).
    """
    return 1.0 if path.suffix.lower() in (".glb", ".gltf") else 1e-3


def load_mesh(
    path: Path, *, max_bytes: int = MAX_BYTES, max_faces: int = MAX_FACES
) -> tuple[Vertices, Faces]:
    """Read a mesh file as triangles.

    Scenes are flattened with their transforms; polygons are cut into triangles; equal vertices
    are joined, and triangles without area and vertices without triangles left out.

    Parameters
    ----------
    path : Path
        A ``.stl``, ``.obj``, ``.ply``, ``.glb`` or ``.gltf`` file.
    max_bytes, max_faces : int
        Above these the file is refused [1].

    Returns
    -------
    tuple of ndarray
        Vertices (V, 3) in the file's unit, z up, and faces (F, 3) as vertex numbers.

    Raises
    ------
    InputError
        Where the file is missing, too large, damaged, empty or refers to files elsewhere.
    """
    file = str(path)
    ending = path.suffix.lower()
    if ending not in ENDINGS:
        raise InputError(
            Problem(f"{path.suffix or 'no ending'!r} is not a mesh file's ending; "
                    f"{', '.join(ENDINGS)} are read", file=file)
        )  # fmt: skip
    raw = _bytes(path, max_bytes)
    vertices, faces = _READERS[ending](raw, path, max_faces)
    return _cleaned(vertices, faces, file, max_faces)


def _bytes(path: Path, max_bytes: int) -> bytes:
    file = str(path)
    try:
        size = path.stat().st_size
        if size > max_bytes:
            raise InputError(
                Problem(f"the file has {size / 1e6:.1f} MB; up to {max_bytes / 1e6:g} MB are read. "
                        "Thin the mesh out (decimate) and save it in a binary format", file=file)
            )  # fmt: skip
        return path.read_bytes()
    except OSError as error:
        raise InputError(
            Problem(f"the file cannot be read: {error.strerror or error}", file=file)
        ) from error


def _damaged(kind: str, why: str, file: str) -> InputError:
    because = f" ({why})" if why else ""
    return InputError(
        Problem(f"this cannot be read as {kind}{because}: the file is damaged or cut short; "
                "export it anew", file=file)
    )  # fmt: skip


def _by_trimesh(
    raw: bytes, ending: str, kind: str, file: str, buffers: dict[str, bytes] | None = None
) -> tuple[Vertices, Faces]:
    """Let trimesh read; whatever it stumbles over becomes one plain message."""
    import numpy as np
    import trimesh

    log = logging.getLogger("trimesh")
    if not log.handlers:
        # Else what it stumbles over reaches the terminal as a traceback.
        log.addHandler(logging.NullHandler())
    try:
        with warnings.catch_warnings():
            warnings.simplefilter("ignore", RuntimeWarning)  # infinities are told of later
            # numpy stops at a word among numbers with no more than this warning.
            warnings.filterwarnings("error", message="string or file could not be read")
            scene = trimesh.load_scene(
                BytesIO(raw), file_type=ending, resolver=buffers, process=False, validate=False,
                skip_materials=True,
            )  # fmt: skip
            parts = [g for g in scene.geometry.values() if isinstance(g, trimesh.Trimesh)]
            if not parts:
                return np.zeros((0, 3)), np.zeros((0, 3), dtype=np.int64)
            for part in parts:
                _check_indices(np.asarray(part.faces), len(part.vertices), file)
            mesh = scene.to_mesh()
            return np.array(mesh.vertices, dtype=np.float64), np.array(mesh.faces, dtype=np.int64)
    except InputError:
        raise
    except Exception as error:  # a damaged file may trip any line of any reader
        # What it says of itself then is about its own variables: nothing to mend a file by.
        raise _damaged(kind, "", file) from error


def _stl(raw: bytes, path: Path, max_faces: int) -> tuple[Vertices, Faces]:
    """Binary where the length fits the count in the header, else text."""
    file = str(path)
    count = int.from_bytes(raw[80:84], "little") if len(raw) >= 84 else -1
    if count >= 0 and len(raw) == 84 + 50 * count:
        if count > max_faces:
            raise too_many_faces(count, max_faces, file)
        return _by_trimesh(raw, "stl", "STL", file)
    text = raw.lower()
    if not text.lstrip().startswith(b"solid") or b"facet" not in text:
        raise _damaged("STL", "neither the length of a binary file nor the text of one", file)
    count = len(re.findall(rb"\bfacet\s+normal\b", text))
    if count > max_faces:
        raise too_many_faces(count, max_faces, file)
    vertices, faces = _by_trimesh(raw, "stl", "STL", file)
    if len(faces) != count:
        raise _damaged("STL", f"{count} facets begin, {len(faces)} are whole", file)
    return vertices, faces


def _ply(raw: bytes, path: Path, max_faces: int) -> tuple[Vertices, Faces]:
    file = str(path)
    head = raw[:65536].split(b"end_header", 1)
    if not raw.startswith(b"ply") or len(head) != 2:
        raise _damaged("PLY", "no header", file)
    counts = {
        name.decode(): int(number)
        for name, number in re.findall(rb"element +(\w+) +(\d{1,12})\b", head[0])
    }
    faces_told = counts.get("face", 0)
    if faces_told > max_faces:
        raise too_many_faces(faces_told, max_faces, file)
    if not faces_told:
        raise InputError(Problem("the file holds no triangles (points alone cast no shadow)",
                                 file=file))  # fmt: skip
    if sum(counts.values()) > len(raw):
        raise _damaged("PLY", "the header counts more than the file holds", file)
    vertices, faces = _by_trimesh(raw, "ply", "PLY", file)
    if len(faces) < faces_told:
        raise _damaged("PLY", f"{faces_told} faces told, {len(faces)} found", file)
    return vertices, faces


def _obj(raw: bytes, path: Path, max_faces: int) -> tuple[Vertices, Faces]:
    from loamwright.files.meshes_obj import read_obj

    return read_obj(raw, str(path), max_faces)


def _gltf(raw: bytes, path: Path, max_faces: int) -> tuple[Vertices, Faces]:
    import numpy as np

    from loamwright.files.meshes_gltf import check_gltf

    buffers = check_gltf(raw, path, max_faces, MAX_BYTES)
    ending = path.suffix.lower()[1:]
    vertices, faces = _by_trimesh(raw, ending, "glTF", str(path), buffers)
    return np.column_stack([vertices[:, 0], -vertices[:, 2], vertices[:, 1]]), faces


_READERS: dict[str, Callable[[bytes, Path, int], tuple[Vertices, Faces]]] = {
    ".stl": _stl,
    ".obj": _obj,
    ".ply": _ply,
    ".glb": _gltf,
    ".gltf": _gltf,
}


def _check_indices(faces: np.ndarray, vertices: int, file: str) -> None:
    if faces.size and (faces.min() < 0 or faces.max() >= vertices):
        raise InputError(
            Problem(f"a triangle names vertex {int(faces.max())}, but there are {vertices} "
                    "(counted from 0): the file is damaged", file=file)
        )  # fmt: skip


def _cleaned(vertices: Vertices, faces: Faces, file: str, max_faces: int) -> tuple[Vertices, Faces]:
    """Refuse what is no piece; join equal vertices, leave out what has no area."""
    import numpy as np

    if len(faces) == 0:
        raise InputError(Problem("the file holds no triangles", file=file))
    if len(faces) > max_faces:
        raise too_many_faces(len(faces), max_faces, file)
    _check_indices(faces, len(vertices), file)
    bad = ~np.isfinite(vertices).all(axis=1)
    if bad.any():
        raise InputError(
            Problem(f"{int(bad.sum())} of {len(vertices)} vertices are not numbers (the first is "
                    f"vertex {int(np.argmax(bad))}, counted from 0): repair the mesh", file=file)
        )  # fmt: skip
    if np.abs(vertices).max() > MAX_EXTENT:
        raise InputError(
            Problem(f"a coordinate of {np.abs(vertices).max():g} lies beyond {MAX_EXTENT:g}: "
                    "repair the mesh", file=file)
        )  # fmt: skip
    joined, number = np.unique(vertices + 0.0, axis=0, return_inverse=True)
    faces = number.reshape(-1)[faces]
    solid = _areas(joined, faces) > 0.0
    if not solid.any():
        raise InputError(
            Problem("no triangle has any area: the mesh is a line or a point", file=file)
        )
    faces = faces[solid]
    used, number = np.unique(faces, return_inverse=True)
    return joined[used], number.reshape(faces.shape).astype(np.int64)


def _areas(vertices: Vertices, faces: Faces) -> NDArray[np.float64]:
    import numpy as np

    a, b, c = (vertices[faces[:, i]] for i in range(3))
    areas: NDArray[np.float64] = 0.5 * np.linalg.norm(np.cross(b - a, c - a), axis=1)
    return areas


def report_on(vertices: Vertices, faces: Faces) -> MeshReport:
    """Say what a mesh is like: holes, volume, size.

    Parameters
    ----------
    vertices : ndarray (V, 3)
        In any unit of length.
    faces : ndarray (F, 3)
        Vertex numbers, as `load_mesh` returns them.

    Returns
    -------
    MeshReport
    """
    import numpy as np

    edges = np.concatenate([faces[:, [0, 1]], faces[:, [1, 2]], faces[:, [2, 0]]])
    both, times = np.unique(np.sort(edges, axis=1), axis=0, return_counts=True)
    open_edges = both[times == 1]
    holes = 0
    if len(open_edges):
        # Here and not above: most meshes are closed, and these are slow to load.
        from scipy.sparse import coo_array
        from scipy.sparse.csgraph import connected_components

        rim, number = np.unique(open_edges, return_inverse=True)
        number = number.reshape(-1, 2)
        links = coo_array((np.ones(len(number)), (number[:, 0], number[:, 1])), (len(rim),) * 2)
        holes = int(connected_components(links, directed=False)[0])
    same_way = len(np.unique(edges, axis=0)) == len(edges)
    watertight = bool((times == 2).all()) and same_way
    a, b, c = (vertices[faces[:, i]] - vertices.mean(axis=0) for i in range(3))
    volume = abs(float(np.einsum("ij,ij->", a, np.cross(b, c)))) / 6.0
    x, y, z = (float(e) for e in np.ptp(vertices, axis=0))
    return MeshReport(
        vertices=len(vertices),
        faces=len(faces),
        watertight=watertight,
        holes=holes,
        volume=volume if watertight else None,
        area=float(_areas(vertices, faces).sum()),
        extent=(x, y, z),
    )


def scale_and_place(
    vertices: Vertices, scale: float, at: tuple[float, float, float], turn: float = 0.0
) -> Vertices:
    """Bring a mesh into the habitat.

    It is scaled, turned about the upright axis, and set down so that the middle of the lower side
    of its bounding box comes to ``at``; where the file had its origin does not matter. Axes: x to
    the right, y from front to back, z up.

    Parameters
    ----------
    vertices : ndarray (V, 3)
        As `load_mesh` returns them, z up.
    scale : float
        What one unit of the file measures [m].
    at : tuple of float
        Where the middle of its lower side goes [m].
    turn : float
        Turn about z, counter-clockwise seen from above [rad].

    Returns
    -------
    ndarray (V, 3)
        Placed vertices [m].
    """
    import numpy as np

    c, s = math.cos(turn), math.sin(turn)
    turned = (vertices * scale) @ np.array([[c, -s, 0.0], [s, c, 0.0], [0.0, 0.0, 1.0]]).T
    low, high = turned.min(axis=0), turned.max(axis=0)
    foot = np.array([(low[0] + high[0]) / 2, (low[1] + high[1]) / 2, low[2]])
    placed: Vertices = turned - foot + np.asarray(at, dtype=np.float64)
    return placed
