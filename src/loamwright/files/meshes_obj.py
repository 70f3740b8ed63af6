"""Reader of the triangles in an OBJ file; line by line, so that an error names its line."""

from __future__ import annotations

import re
from itertools import pairwise
from typing import TYPE_CHECKING

from loamwright.errors import InputError, Problem

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

MAX_PROBLEMS = 20


def read_obj(
    raw: bytes, file: str, max_faces: int
) -> tuple[NDArray[np.float64], NDArray[np.int64]]:
    """Vertices and triangles of an OBJ file.

    Vertex numbers count from 1, or back from the latest vertex where negative; polygons are cut
    into a fan of triangles. Texture, normals, groups, curves and materials are passed over, so a
    material file is never looked for.
    """
    import numpy as np

    from loamwright.files.meshes_limits import too_many_faces

    vertices: list[tuple[float, float, float]] = []
    faces: list[tuple[int, int, int]] = []
    lines: list[int] = []
    problems: list[Problem] = []

    def wrong(message: str, line: int) -> None:
        problems.append(Problem(message, file=file, line=line, column=1))
        if len(problems) >= MAX_PROBLEMS:
            raise InputError(problems)

    count = len(re.findall(rb"^f\s", raw, re.MULTILINE))
    if count > max_faces:
        raise too_many_faces(count, max_faces, file)
    count = len(re.findall(rb"^v\s", raw, re.MULTILINE))
    if count > 3 * max_faces:
        wrong(f"the file has {count:,} vertices; up to {3 * max_faces:,} are read", 1)
        raise InputError(problems)
    text = raw.decode("latin-1").replace("\x00", " ").replace("\r\n", "\n")
    number = 0
    # A line that ends in a backslash goes on in the next; its mark keeps the count of lines true.
    for line in text.replace("\\\n", " \x00").split("\n"):
        number += 1 + line.count("\x00")
        words = line.replace("\x00", " ").split("#", 1)[0].split()
        if not words:
            continue
        if words[0] == "v":
            try:
                x, y, z = (float(w) for w in words[1:4])
                vertices.append((x, y, z))
            except ValueError:
                wrong(f"a vertex is three numbers, not {' '.join(words[1:4])[:40]!r}", number)
                vertices.append((0.0, 0.0, 0.0))
        elif words[0] == "f":
            corners: list[int] = []
            for word in words[1:]:
                try:
                    i = int(word.split("/", 1)[0])
                except ValueError:
                    i = 0
                if i == 0 or abs(i) > 3 * max_faces:  # beyond any vertex, or any machine's number
                    wrong(
                        f"{word[:30]!r} is not the number of a vertex (they count from 1)", number
                    )
                    corners = []
                    break
                corners.append(i - 1 if i > 0 else len(vertices) + i)
            if len(corners) < 3:
                if not problems or problems[-1].line != number:
                    wrong("a face has at least three vertices", number)
                continue
            for b, c in pairwise(corners[1:]):
                faces.append((corners[0], b, c))
                lines.append(number)
            if len(faces) > max_faces:
                raise too_many_faces(len(faces), max_faces, file)
    if problems:
        raise InputError(problems)
    f = np.array(faces, dtype=np.int64).reshape(-1, 3)
    outside = ((f < 0) | (f >= len(vertices))).any(axis=1)
    for row in np.flatnonzero(outside)[:MAX_PROBLEMS]:
        problems.append(
            Problem(f"a face names a vertex that is not there (there are {len(vertices)})",
                    file=file, line=lines[row], column=1)
        )  # fmt: skip
    if problems:
        raise InputError(problems)
    return np.array(vertices, dtype=np.float64).reshape(-1, 3), f
