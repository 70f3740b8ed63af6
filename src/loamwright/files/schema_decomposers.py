"""Decomposers let into the ground, as written in the file."""

from __future__ import annotations

from typing import Annotated

from pydantic import Field

from loamwright.files.schema_values import Name, Part


class DecomposerPart(Part):
    """Decomposers of one species, let in at planting."""

    species: Name = Field(description="Key of a decomposer of the catalogue.")
    count: Annotated[int, Field(strict=True, ge=1, le=10_000_000)] | None = Field(
        None, description="How many are let in; left out: computed for the floor."
    )
