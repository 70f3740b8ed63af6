"""Words of the cut plan: names of sheets, materials, troubles."""

from __future__ import annotations

import re

from loamwright.plan.cut_parts import PartToCut
from loamwright.plan.cuts import Cuts, Job, Trouble
from loamwright.report.draft_page import size_words
from loamwright.report.plain import clean
from loamwright.report.system_words import in_system

JOINTS = {
    "floor-and-top-through": "Floor and top lie over the edges of back and sides; the back lies over "
    "the back edges of the sides; the front stands between the sides.",
    "sides-through": "The sides cover the edges of floor, top and back; the back stands between them, "
    "on the floor and under the top; so does the front.",
}


def unit(system: str) -> str:
    """Unit of the cut plan."""
    return "in" if system == "us" else "mm"


def size_pair(width: float, height: float, system: str) -> str:
    """``1520 × 776``."""
    return f"{size_words(width, system)} × {size_words(height, system)}"


def job_words(job: Job, system: str) -> str:
    """What is cut: material and thickness; of rolls the material alone."""
    label = material_words(job.label, system, 50)
    if job.roll:
        return label
    thick = f"{size_words(job.thickness, system)} {unit(system)}"
    return label if thick in label else f"{label}, {thick}"


def material_words(label: str, system: str, longest: int = 34) -> str:
    """A material's label without the thickness the catalogue knows it by, in the system people are
    shown; of a mesh its pitch stays, of a batten or tube its size."""
    text = label if "mesh" in label else re.sub(r", \d+(\.\d+)? mm$", "", label)
    return clean(in_system(text, system), longest)


def sheet_name(job: Job, number: int) -> str:
    """Name of a sheet's drawing, without its ending."""
    safe = "".join(c if c.isalnum() or c == "-" else "-" for c in job.material.lower())
    thick = "" if job.roll else f"-{1000 * job.thickness:.0f}mm"
    return f"{'roll' if job.roll else 'sheet'}-{number:02d}-{safe}{thick}"


def part_words(part: PartToCut, system: str) -> str:
    """A part with its size."""
    return f"{clean(part.name, 40)}, {size_pair(part.width, part.height, system)} {unit(system)}"


def trouble_words(trouble: Trouble, system: str) -> str:
    """What is wrong, and how to mend it."""
    name = clean(trouble.name, 40)
    if trouble.kind == "too_large" and trouble.part is not None and trouble.largest is not None:
        return (
            f"{part_words(trouble.part, system)}, is larger than every sheet of its material (at "
            f"most {size_pair(*trouble.largest, system)} {unit(system)}): name a larger one under "
            "cuts.stock, or build smaller."
        )
    if trouble.kind == "too_long" and trouble.part is not None and trouble.largest is not None:
        return (
            f"{name}, {size_words(trouble.part.height, system)} {unit(system)} long, is longer than "
            f"every bar (at most {size_words(trouble.largest[0], system)} {unit(system)}): price a "
            "longer one, or join two with a lap."
        )
    if trouble.kind == "lost_hole":
        return (
            f"The hole '{name}' in the front lies in no pane whole: it crosses the edge of a door or "
            "of the sill. Move it, or set cuts.sill above or below it."
        )
    if trouble.kind == "hole_over_edge":
        where = clean(trouble.part.name, 40) if trouble.part else "its part"
        return (
            f"The hole '{name}' runs out over the edge of {where}: cut it as a notch, or move it."
        )
    return (
        "The front is too low for doors above its sill: set cuts.sill and cuts.runner lower, or give "
        "the front no doors."
    )


def troubles_of(cuts: Cuts, system: str) -> list[str]:
    """Everything that is wrong with a cut plan, in words."""
    return [trouble_words(t, system) for t in cuts.troubles]
