"""What an engine process does for the build: its plan, its drawings, and the whole pack."""

from __future__ import annotations

import pickle
from collections.abc import Callable, Mapping
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from loamwright.engine.climate.results import ClimateRun
    from loamwright.engine.findings import Finding
    from loamwright.engine.ground.coupled import Coupled
    from loamwright.engine.light.values import LightResult
    from loamwright.habitat.habitat import Habitat
    from loamwright.plan.whole import Plan
    from loamwright.web.life_work import Life


@dataclass(frozen=True)
class Known:
    """What the other engines have said of a habitat: the light's ``study`` as bytes, typical ``days``
    by season, the ground's ``water``, its ``life``, and all ``findings``. Empty while they are at
    work."""

    study: bytes | None = None
    days: Mapping[str, ClimateRun] | None = None
    water: Coupled | None = None
    life: Life | None = None
    findings: tuple[Finding, ...] = ()

    def light(self, habitat: Habitat) -> LightResult | None:
        """The light at the sites, where it has been studied."""
        from loamwright.engine.light.values import read_values

        return None if self.study is None else read_values(habitat, pickle.loads(self.study))


@dataclass(frozen=True)
class Planned:
    """The ``plan`` of the ``habitat``'s build with its own ``findings``; ``whole`` where all engines
    had said what they know, so that nothing of it is still left out."""

    plan: Plan | None = None
    findings: tuple[Finding, ...] = ()
    habitat: Habitat | None = None
    whole: bool = False


def plan(shop: Any, note: Any, habitat: Habitat, known: Known, system: str) -> Planned:
    """The plan of a habitat's build, with what the engines know so far."""
    from loamwright.engine.ground.quantities import ground_quantities
    from loamwright.plan.findings import build_findings
    from loamwright.plan.whole import plan_of

    note("planning the build")
    life = known.life
    made = plan_of(
        habitat, amount=ground_quantities(habitat, us=system == "us"), days=known.days,
        light=known.light(habitat), findings=known.findings,
        outlooks=known.water.outlooks if known.water else (),
        planting=life.planting if life else None, life=life.small if life else None,
    )  # fmt: skip
    found = tuple(build_findings(habitat, made.build))
    return Planned(made, found, habitat, life is not None)


def plan_drawings(
    shop: Any, note: Any, habitat: Habitat, plan: Plan, system: str
) -> dict[str, list[tuple[str, bytes]]]:
    """Drawings of the sheets to cut, the wiring and the misting line, each with its file's name."""
    from loamwright.report.cut_drawing import sheet_drawings
    from loamwright.report.mist_drawing import mist_drawing
    from loamwright.report.wiring_drawing import wiring_drawing

    note("drawing the cuts")
    sheets = sheet_drawings(plan.cuts, "svg", system)
    note("drawing the wiring")
    wires = [("wiring.svg", wiring_drawing(habitat, plan.build.wiring, system))]
    line = plan.build.mist
    mist = [] if line is None else [("misting-line.svg", mist_drawing(habitat, line, system))]
    return {"cuts": sheets, "wiring": wires, "mist": mist}


def cut_files(shop: Any, note: Any, plan: Plan, system: str) -> bytes:
    """Every sheet as DXF, in one ZIP."""
    from loamwright.report.dxf import cut_files as drawn

    note("drawing the cuts for the saw")
    return zipped(dict(drawn(plan.cuts, system)))


def pack(
    shop: Any, note: Any, habitat: Habitat, known: Known, drills: list[Any], system: str,
    paper: str, date: tuple[int, int, int], checksum: str, made: str,
) -> bytes:  # fmt: skip
    """The whole pack as one ZIP, its PDF first: the pages that the command writes, from what the
    desk's engines have found."""
    from loamwright import pack_pages, workflow
    from loamwright.engine.ground.quantities import ground_quantities
    from loamwright.web.life_work import Life

    note("planning the build")
    begun = pack_pages.beginning(habitat, None, date)
    light, life = known.light(habitat), known.life or Life()
    assert light is not None, "the desk asks for no pack before there is light"
    planned = plan(shop, note, begun, known, system)
    assert planned.plan is not None
    checked = workflow.Checked(
        begun, list(known.findings), light, {}, dict(known.days or {}), known.water, life.animals,
        life.small, life.planting,
    )  # fmt: skip
    work = pack_pages.Work(
        checked, drills, ground_quantities(begun, us=system == "us"), planned.plan, system, paper,
        date, workflow.results_in(workflow.kept_folder()), note,
    )  # fmt: skip
    return zipped(pack_pages.files_of(work, checksum, made), date)


def zipped(files: Mapping[str, bytes], date: tuple[int, int, int] = (1980, 1, 1)) -> bytes:
    """Files as one ZIP, in their order; the same files and date give the same bytes."""
    import io
    import zipfile

    out = io.BytesIO()
    with zipfile.ZipFile(out, "w") as archive:
        for name, content in files.items():
            entry = zipfile.ZipInfo(name, (*date, 0, 0, 0))
            entry.external_attr = 0o644 << 16
            entry.compress_type = zipfile.ZIP_DEFLATED
            archive.writestr(entry, content)
    return out.getvalue()


JOBS: dict[str, Callable[..., Any]] = {
    "plan": plan, "plan_drawings": plan_drawings, "cut_files": cut_files, "pack": pack,
}  # fmt: skip
"""Jobs of this module by name."""
