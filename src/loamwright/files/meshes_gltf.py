"""What must hold of a glTF file before a reader is let at it.

glTF is a graph of JSON that can point anywhere: at files elsewhere, at the network, at itself, or
at a thousand copies of one part. All that is looked at here, before a triangle is made.
"""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any
from urllib.parse import unquote

from loamwright.errors import InputError, Problem
from loamwright.files.paths import inside

MAX_NODES = 10_000
MAX_HARMLESS = ("KHR_materials", "KHR_texture")
"""Extensions a file may require, by how they begin: they change looks, not shape."""


def check_gltf(raw: bytes, path: Path, max_faces: int, max_bytes: int) -> dict[str, bytes]:
    """Check a ``.gltf`` or ``.glb`` file; return the buffer files it needs, by their uri.

    Raises `InputError` where it is damaged, refers to anything outside its folder, is packed by
    an extension, or unfolds to too many triangles.
    """
    file = str(path)
    try:
        tree = _json(raw, path)
        _wholesome(tree, file)
        buffers = _buffers(tree, path, max_bytes)
        count = _triangles(tree, file, max_faces)
    except InputError:
        raise
    except (KeyError, IndexError, TypeError, ValueError, AttributeError, RecursionError) as error:
        raise InputError(
            Problem(
                "this cannot be read as glTF: its description is damaged or cut short", file=file
            )
        ) from error
    if count > max_faces:
        from loamwright.files.meshes_limits import too_many_faces

        raise too_many_faces(count, max_faces, file)
    return buffers


def _json(raw: bytes, path: Path) -> dict[str, Any]:
    if path.suffix.lower() == ".glb":
        length = int.from_bytes(raw[12:16], "little")
        whole = int.from_bytes(raw[8:12], "little")
        if raw[:4] != b"glTF" or raw[16:20] != b"JSON" or whole != len(raw):
            raise ValueError("no GLB header, or cut short")
        raw = raw[20 : 20 + length]
    tree = json.loads(raw.decode("utf-8-sig"))
    if not isinstance(tree, dict):
        raise TypeError("not an object")
    return tree


def _wholesome(tree: dict[str, Any], file: str) -> None:
    """Version 2, nothing packed, nothing sparse, no accessor that makes numbers from nothing."""
    if not str(tree["asset"]["version"]).startswith("2"):
        raise InputError(Problem("only glTF version 2 is read; export it as that", file=file))
    for name in tree.get("extensionsRequired", []):
        if not str(name).startswith(MAX_HARMLESS):
            raise InputError(
                Problem(f"the file needs the extension {str(name)[:60]}; export it without "
                        "compression or other extensions", file=file)
            )  # fmt: skip
    for accessor in tree.get("accessors", []):
        if "sparse" in accessor or ("bufferView" not in accessor and accessor["count"]):
            raise InputError(
                Problem(
                    "sparse or empty accessors are not read; export the mesh plainly", file=file
                )
            )


def _buffers(tree: dict[str, Any], path: Path, max_bytes: int) -> dict[str, bytes]:
    """Files beside the document that hold its numbers."""
    found: dict[str, bytes] = {}
    room = max_bytes
    for buffer in tree.get("buffers", []):
        uri = buffer.get("uri")
        if uri is None or uri.startswith("data:"):
            continue
        try:
            beside = inside(path.parent, unquote(uri))
            size = beside.stat().st_size
            room -= size
            if room < 0:
                raise InputError(f"{uri!r}: more than {max_bytes / 1e6:g} MB of buffers")
            found[uri] = beside.read_bytes()
        except InputError as error:
            raise InputError(
                [Problem(f"buffer {p.message}", file=str(path)) for p in error.problems]
            ) from error
        except OSError as error:
            raise InputError(
                Problem(f"buffer {uri[:80]!r} cannot be read: {error.strerror}", file=str(path))
            ) from error
    return found


def _triangles(tree: dict[str, Any], file: str, max_faces: int) -> int:
    """Triangles of the unfolded scene; each node may hang from one parent only."""
    nodes = tree.get("nodes", [])
    if len(nodes) > MAX_NODES:
        raise InputError(Problem(f"{len(nodes)} nodes; up to {MAX_NODES} are read", file=file))
    parents = [0] * len(nodes)
    for node in nodes:
        for child in node.get("children", []):
            parents[_index(child, nodes)] += 1
    reached: set[int] = set()
    waiting = [i for i, n in enumerate(parents) if n == 0]
    while waiting:
        i = waiting.pop()
        reached.add(i)
        waiting.extend(nodes[i].get("children", []))
        if len(reached) + len(waiting) > len(nodes):
            break
    if max(parents, default=0) > 1 or len(reached) != len(nodes):
        raise InputError(
            Problem("a node hangs from two parents, or from itself: the file is damaged", file=file)
        )
    sizes = [sum(_size(p, tree) for p in mesh["primitives"]) for mesh in tree.get("meshes", [])]
    return sum(sizes[_index(node["mesh"], sizes)] for node in nodes if "mesh" in node)


def _size(primitive: dict[str, Any], tree: dict[str, Any]) -> int:
    """Triangles of one primitive, by the counts it tells."""
    mode = primitive.get("mode", 4)
    if mode not in (4, 5, 6):
        return 0
    accessors = tree["accessors"]
    used = [primitive["attributes"]["POSITION"]]
    used += [primitive["indices"]] if "indices" in primitive else []
    counts = [accessors[_index(i, accessors)]["count"] for i in used]
    if any(not isinstance(c, int) or c < 0 for c in counts):
        raise ValueError("a count that is none")
    last = int(counts[-1])
    return last // 3 if mode == 4 else max(last - 2, 0)


def _index(i: Any, what: list[Any]) -> int:
    if not isinstance(i, int) or isinstance(i, bool) or not 0 <= i < len(what):
        raise IndexError(i)
    return i
