"""Drafts as CAD files (DXF R2010), in true size: millimetres, or inches; the same bytes every time."""

from __future__ import annotations

import io
from collections.abc import Iterator
from contextlib import contextmanager
from typing import TYPE_CHECKING, Any

from loamwright.plan.cuts import Cuts
from loamwright.report.cut_drawing import sheet_draft, sheets_of
from loamwright.report.cut_words import size_pair
from loamwright.report.draft import (
    LAYERS,
    Balloon,
    Chain,
    Draft,
    Line,
    Point,
    Ring,
    Shape,
    Word,
    balloon_radius,
)  # fmt: skip
from loamwright.report.draft_page import scale_for

if TYPE_CHECKING:
    from ezdxf.document import Drawing

UNITS = {"metric": (1000.0, 4, 1), "us": (1.0 / 0.0254, 1, 0)}
"""What a metre is in the drawing's unit, the unit's number in the file's header, and whether it
measures in metric."""

_STYLE = "WORDS"
_DIMENSIONS = "MEASURES"


def cut_files(cuts: Cuts, system: str = "metric") -> list[tuple[str, bytes]]:
    """A CAD file of each sheet, with the name of its file: sheet, parts, holes, cuts and offcuts on
    layers of their own, each part with its measures."""
    out = []
    for number, (job, sheet) in enumerate(sheets_of(cuts), 1):
        scale = scale_for((sheet.width, sheet.height), (250.0, 170.0), system)
        draft, _ = sheet_draft(job, sheet, number, scale, system, words=False)
        shapes = list(draft.shapes)
        mm = scale / 1000.0
        for laid in sheet.laid:
            right, top = laid.x + laid.width, laid.y + laid.height
            middle = (laid.x + laid.width / 2, laid.y + laid.height / 2)
            words = f"{laid.part.mark} {laid.part.name}"
            size = size_pair(laid.part.width, laid.part.height, system)
            height = min(3.0, 0.8 * laid.height / mm / 4.0)
            shapes += [
                Word("TEXT", (middle[0], middle[1] + 0.8 * height * mm), words, height),
                Word("TEXT", (middle[0], middle[1] - 0.8 * height * mm), size, height),
                Chain((laid.x, right), True, laid.y, 2.0),
                Chain((laid.y, top), False, laid.x, 2.0),
            ]
        made = dxf_bytes(Draft(draft.name, draft.title, tuple(shapes)), scale, system)
        out.append((f"{draft.name}.dxf", made))
    return out


def dxf_bytes(draft: Draft, scale: int, system: str = "metric") -> bytes:
    """A draft as a CAD file; ``scale`` 1 : n is that of the paper its words are sized for."""
    import ezdxf
    from ezdxf import units as cad_units

    size, number, metric = UNITS[system]
    with _always_the_same():
        kit: Any = ezdxf
        doc = kit.new("R2010")
        doc.units = cad_units.MM if system == "metric" else cad_units.IN
        doc.header["$INSUNITS"] = number
        doc.header["$MEASUREMENT"] = metric
        paper = size * scale / 1000.0  # one millimetre of paper in the drawing's unit
        _prepare(doc, paper, system)
        space = doc.modelspace()
        for shape in draft.shapes:
            _add(space, shape, size, paper)
        out = io.StringIO()
        # The library adds classes in the order of a set, which differs from one run to the next.
        doc.classes.add_required_classes(doc.dxfversion)
        for key in sorted(doc.classes.classes):
            doc.classes.classes.move_to_end(key)
        doc.write(out)
    return out.getvalue().encode("utf-8")


@contextmanager
def _always_the_same() -> Iterator[None]:
    """Without the time of writing and random numbers in the file's head."""
    import ezdxf

    kit: Any = ezdxf
    options = kit.options
    before = options.write_fixed_meta_data_for_testing
    options.write_fixed_meta_data_for_testing = True
    try:
        yield
    finally:
        options.write_fixed_meta_data_for_testing = before


def _prepare(doc: Drawing, paper: float, system: str) -> None:
    """Layers, dashes, the style of words and that of measures."""
    doc.styles.new(_STYLE, dxfattribs={"font": "txt"})
    for name, look in LAYERS.items():
        dash = "Continuous"
        if look.dash:
            dash = f"{name}-DASH"
            steps = [d * paper * (1 if n % 2 == 0 else -1) for n, d in enumerate(look.dash)]
            doc.linetypes.new(dash, dxfattribs={"description": name.lower()}).setup_pattern(
                [sum(abs(s) for s in steps), *steps]
            )
        weight = max(w for w in (13, 18, 25, 35, 50) if w <= max(look.pen * 100, 13))
        doc.layers.add(name, color=look.aci, linetype=dash, lineweight=weight)
    doc.dimstyles.new(
        _DIMENSIONS,
        dxfattribs={
            "dimtxsty": _STYLE, "dimtxt": 2.2 * paper, "dimasz": 1.6 * paper, "dimtsz": 1.2 * paper,
            "dimexo": 0.8 * paper, "dimexe": 1.2 * paper, "dimgap": 0.6 * paper, "dimtad": 1,
            "dimdec": 1 if system == "metric" else 4, "dimlunit": 2 if system == "metric" else 5,
            "dimfrac": 2, "dimzin": 8, "dimscale": 1.0, "dimclrt": 7, "dimtih": 0, "dimtoh": 0,
        },
    )  # fmt: skip


def _add(space: Any, shape: Shape, size: float, paper: float) -> None:
    look = {"layer": shape.layer} if not isinstance(shape, Chain) else {"layer": "DIMENSIONS"}

    def at(point: Point) -> Point:
        return point[0] * size, point[1] * size

    if isinstance(shape, Line):
        space.add_lwpolyline([at(p) for p in shape.points], close=shape.closed, dxfattribs=look)
    elif isinstance(shape, Ring):
        space.add_circle(at(shape.centre), shape.radius * size, dxfattribs=look)
    elif isinstance(shape, Word):
        _text(space, shape.text, at(shape.at), 0.72 * shape.size * paper, look, shape.turned)
    elif isinstance(shape, Chain):
        _measures(space, shape, size, paper)
    elif isinstance(shape, Balloon):
        x, y = at(shape.at)
        middle = (x + shape.shift[0] * paper, y + shape.shift[1] * paper)
        if shape.to is not None:
            space.add_line(at(shape.to), middle, dxfattribs={"layer": "DIMENSIONS"})
        space.add_circle(middle, balloon_radius(shape.text) * paper, dxfattribs=look)
        _text(space, shape.text, middle, 1.6 * paper, look, False)


def _text(
    space: Any, words: str, at: Point, height: float, look: dict[str, Any], turned: bool
) -> None:
    from ezdxf.enums import TextEntityAlignment

    text = space.add_text(words, height=height, rotation=90.0 if turned else 0.0,
                          dxfattribs={**look, "style": _STYLE})  # fmt: skip
    text.set_placement(at, align=TextEntityAlignment.MIDDLE_CENTER)


def _measures(space: Any, chain: Chain, size: float, paper: float) -> None:
    """A chain of measures as dimensions of the CAD file."""
    line = chain.beside * size + chain.off * paper
    beside = chain.beside * size
    for low, high in zip(chain.at[:-1], chain.at[1:], strict=True):
        ends = [(v * size, beside) if chain.level else (beside, v * size) for v in (low, high)]
        base = (0.0, line) if chain.level else (line, 0.0)
        dimension = space.add_linear_dim(
            base=base, p1=ends[0], p2=ends[1], angle=0.0 if chain.level else 90.0,
            dimstyle=_DIMENSIONS, dxfattribs={"layer": "DIMENSIONS"},
        )  # fmt: skip
        dimension.render()
