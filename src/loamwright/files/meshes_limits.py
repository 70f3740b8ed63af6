"""The refusal that every reader of mesh files shares."""

from __future__ import annotations

from loamwright.errors import InputError, Problem


def too_many_faces(found: int, max_faces: int, file: str) -> InputError:
    """The refusal of a mesh that is too fine."""
    return InputError(
        Problem(
            f"the mesh has {found:,} triangles; up to {max_faces:,} are read. Thin it out "
            "(decimate) in a mesh editor: some 5,000 triangles cast the shadow of a root well",
            file=file,
        )
    )
