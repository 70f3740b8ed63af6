"""From a habitat to its cut plan: parts by material, laid on sheets and rolls, or ordered."""

from __future__ import annotations

import itertools
import math
import string
from collections.abc import Iterable, Sequence
from dataclasses import replace

import numpy as np

from loamwright.habitat.cutting import Stock
from loamwright.habitat.habitat import Habitat
from loamwright.plan.bars import TUBE, TUBE_US, USUAL, USUAL_US, Bar, cut_bars, fits
from loamwright.plan.cut_order import cut_order
from loamwright.plan.cut_parts import BARS, BATTEN, FRAME, RAIL, Hole, PartToCut
from loamwright.plan.cuts import Cut, Cuts, Job, Laid, Offcut, Sheet, Trouble
from loamwright.plan.lines import Line
from loamwright.plan.packing import Packing, pack_roll, pack_sheets
from loamwright.plan.packing_bounds import whole_sheets
from loamwright.plan.parts_to_cut import parts_to_cut
from loamwright.plan.rectangles import Bin, Item, Pattern
from loamwright.plan.stock import kerf_of, price_key, stocks_for

MICRO = 1e6
"""Sizes are packed as whole micrometres."""

SMALLEST_OFFCUT = 0.02
"""Offcuts narrower than this are waste [m]."""

SEED = 20
"""Of the random orders, where the caller has no generator of its own."""

_MOST_WAYS = 3
"""Parts in pieces for which both ways of parting are tried together."""

Ways = Sequence[Sequence[PartToCut]]


def cut_plan(habitat: Habitat, rng: np.random.Generator | None = None) -> Cuts:
    """The cut plan of a habitat; ``rng`` for the packing's random orders (None: always the same)."""
    rng = np.random.default_rng(SEED) if rng is None else rng
    found = parts_to_cut(habitat)
    troubles = [Trouble("lost_hole", name) for name in found.lost_holes]
    troubles += [
        Trouble("hole_over_edge", h.name, p) for p in found.parts for h in p.holes if h.edge
    ]
    if found.no_doors:
        troubles.append(Trouble("no_doors", "front"))
    groups: dict[tuple[str, int], list[PartToCut]] = {}
    for part in found.parts:
        if part.kind in BARS:
            continue
        groups.setdefault((part.material, round(part.thickness * MICRO)), []).append(part)
    jobs: list[Job] = []
    ordered: list[PartToCut] = []
    for parts in groups.values():
        stocks = stocks_for(habitat, parts[0])
        if not stocks:
            ordered += parts
            continue
        job, large = _job(habitat, parts, stocks, rng)
        troubles += large
        if job is not None:
            jobs.append(job)
    order = tuple(sorted(ordered, key=lambda p: p.number))
    bars: tuple[Bar, ...] = ()
    for kind in BARS:
        made, long = _bars(habitat, [p for p in found.parts if p.kind == kind])
        bars, troubles = (*bars, *made), [*troubles, *long]
    cutting = habitat.cutting
    return Cuts(found.parts, tuple(jobs), order, tuple(troubles), cutting.joint, cutting.runner,
                cutting.overlap, bars)  # fmt: skip


def _bars(habitat: Habitat, parts: Sequence[PartToCut]) -> tuple[tuple[Bar, ...], list[Trouble]]:
    """What is cut to length: from the lengths that the price list sells, else the usual ones."""
    if not parts:
        return (), []
    key, label = parts[0].material, parts[0].label
    prices = habitat.money.price_list if habitat.money is not None else ()
    stocks = [(float(p.pack), float(p.price)) for p in prices if p.key == key and p.unit == "m"]
    if not stocks:
        us = habitat.units == "us"
        tube = TUBE_US if us else TUBE
        usual = {BATTEN: USUAL_US if us else USUAL, FRAME: tube, RAIL: tube}
        stocks = [(x, x) for x in usual[parts[0].kind]]
    longest = max(s[0] for s in stocks)
    troubles = [
        Trouble("too_long", p.name, p, (longest, p.width))
        for p in parts if not fits([p.height], longest)
    ]  # fmt: skip
    fitting = [p for p in parts if fits([p.height], longest)]
    made = [
        Bar(key, label, stocks[n][0], tuple(fitting[k] for k in pieces))
        for n, pieces in cut_bars([p.height for p in fitting], stocks)
    ]
    return tuple(sorted(made, key=lambda b: b.pieces[0].number)), troubles


def cut_lines(cuts: Cuts) -> list[Line]:
    """What to buy for the cuts: whole sheets, lengths of rolls, and what is ordered by area."""
    out = []
    for job in cuts.jobs:
        by_key: dict[str, list[Sheet]] = {}
        for sheet in job.sheets:
            by_key.setdefault(sheet.key, []).append(sheet)
        for key, sheets in by_key.items():
            uses = tuple(dict.fromkeys(x.part.name for s in sheets for x in s.laid))
            stock = sheets[0].stock
            by_length = stock.roll and stock.length is None
            amount = math.fsum(s.height for s in sheets) if by_length else float(len(sheets))
            out.append(
                Line(key, "sheets and rolls", job.label, amount, "m" if by_length else "piece",
                     why="cut plan", uses=uses)
            )  # fmt: skip
    panes: dict[tuple[str, float], list[PartToCut]] = {}
    for part in cuts.ordered:
        panes.setdefault((part.material, part.thickness), []).append(part)
    for (material, thick), parts in panes.items():
        out.append(
            Line(f"to-size/{material}-{1000 * thick:g}mm", "sheets and rolls", parts[0].label,
                 math.fsum(p.area for p in parts), "m2", why="ordered cut to size",
                 uses=tuple(p.name for p in parts))
        )  # fmt: skip
    return out


def _job(
    habitat: Habitat, parts: Sequence[PartToCut], stocks: Sequence[Stock], rng: np.random.Generator
) -> tuple[Job | None, list[Trouble]]:
    """The best of: all sheets together, or any one roll."""
    choices: list[list[Stock]] = [[s for s in stocks if not s.roll]]
    choices = [c for c in choices if c] + [[s] for s in stocks if s.roll]
    best: tuple[int, float, Job | None, list[Trouble]] | None = None
    for chosen in choices:
        job, large = _laid_out(habitat, parts, chosen, rng)
        area = 0.0 if job is None else sum(s.width * s.height for s in job.sheets)
        if best is None or (len(large), area) < best[:2]:
            best = (len(large), area, job, large)
    assert best is not None
    return best[2], best[3]


def _laid_out(
    habitat: Habitat, parts: Sequence[PartToCut], stocks: Sequence[Stock], rng: np.random.Generator
) -> tuple[Job | None, list[Trouble]]:
    trim = habitat.cutting.trim
    kerf = kerf_of(habitat, parts[0], stocks[0])
    rooms = [_room(s, 0.0 if s.roll else trim) for s in stocks]
    grain = stocks[0].grain
    fitting: list[Ways] = []
    troubles = []
    for part in parts:
        item = _item(part, grain)
        if any(item.fits(r.width, r.height) for r in rooms):
            fitting.append([[part]])
        elif part.pieces:
            largest = max(rooms, key=lambda r: r.area)
            fitting.append(_parted(part, largest.width / MICRO, largest.height / MICRO, grain))
        else:
            largest = max(rooms, key=lambda r: r.area)
            size = (largest.width / MICRO, largest.height / MICRO)
            troubles.append(Trouble("too_large", part.name, part, size))
    if not fitting:
        return None, troubles
    best: tuple[Packing, list[PartToCut]] | None = None
    parted = any(len(way) > 1 for ways in fitting for way in ways)
    large = {t.name for t in troubles}
    wholes = [p for p in parts if p.name not in large]
    for pieces in _ways(fitting):
        items = [_item(p, grain) for p in pieces]
        packed = _packed(items, stocks, rooms, round(kerf * MICRO), rng)
        if parted:
            # However a part is parted, its area must be bought.
            packed = replace(packed, bound=_least(wholes, rooms, roll=packed.by_length))
        if best is None or packed.bought < best[0].bought:
            best = (packed, pieces)
        if packed.bought <= packed.bound:
            break
    assert best is not None
    return _told(best[0], best[1], stocks, rooms, kerf, trim), troubles


def _least(wholes: Sequence[PartToCut], rooms: Sequence[Bin], roll: bool) -> int:
    """Least that can be bought for parts that may be parted anyhow: laps are not counted."""
    area = math.ceil(math.fsum(p.area for p in wholes) * MICRO**2 * (1.0 - 1e-9))
    if roll:
        return math.ceil(area / rooms[0].width)
    return whole_sheets(area, 1, rooms)


def _ways(fitting: Sequence[Ways]) -> Iterable[list[PartToCut]]:
    """All parts, with each way in which the first few of those in pieces can be parted."""
    many = [n for n, ways in enumerate(fitting) if len(ways) > 1][:_MOST_WAYS]
    for chosen in itertools.product(*(range(len(fitting[n])) for n in many)):
        pick = dict(zip(many, chosen, strict=True))
        yield [p for n, ways in enumerate(fitting) for p in ways[pick.get(n, 0)]]


def _packed(
    items: Sequence[Item], stocks: Sequence[Stock], rooms: Sequence[Bin], kerf: int,
    rng: np.random.Generator,
) -> Packing:  # fmt: skip
    stock = stocks[0]
    if stock.roll:
        packed = pack_roll(items, rooms[0].width, kerf, rng)
        if stock.length is None or packed.bought <= round(stock.length * MICRO):
            return packed
    return pack_sheets(items, rooms, kerf, rng)


def _room(stock: Stock, trim: float) -> Bin:
    """Room on a sheet, its longer edge along x; on a roll its width along x. A roll without an end is
    as long as anything."""
    if stock.roll:
        long = stock.length if stock.length is not None else 1000.0
        return Bin(round(stock.width * MICRO), round(long * MICRO))
    long, short = max(stock.length or 0.0, stock.width), min(stock.length or 0.0, stock.width)
    return Bin(round((long - 2 * trim) * MICRO), round((short - 2 * trim) * MICRO))


def _item(part: PartToCut, grain: str) -> Item:
    """A part as an item; where both have a grain it lies one way only, its grain along the sheet's."""
    wide, high = round(part.width * MICRO), round(part.height * MICRO)
    if not part.grain or grain == "none":
        return Item(wide, high, True)
    along = (part.grain == "width") == (grain == "long")
    return Item(wide, high, False) if along else Item(high, wide, False)


def _parted(part: PartToCut, wide: float, high: float, grain: str) -> Ways:
    """Ways of making a large part of pieces side by side: full sheets lying or standing, and a last
    row and a last column that may be put together from shorter pieces, as from offcuts."""
    lying, standing = (wide, high), (high, wide)
    sides = [lying, standing]
    if part.grain and grain != "none":
        sides = [lying if (part.grain == "width") == (grain == "long") else standing]
    out = []
    for shorter, narrower, (across, up) in itertools.product((1, 2, 3, 4), (1, 2, 3, 4), sides):
        columns, rows = (_spans(part.width, across, part.lap), _spans(part.height, up, part.lap))
        if part.lap > 0.0 and (shorter > 1 or narrower > 1):
            continue
        body = [(c, r) for r in rows[:-1] for c in columns[:-1]]
        # The last row lies along the width; the last column stands beside all rows above it.
        count = max(shorter, len(columns)) if shorter > 1 else 0
        last_row = _equal(columns[0][0], columns[-1][1], count)
        low = [(c, rows[-1]) for c in (last_row or columns)]
        beside = _equal(0.0, rows[-1][0], narrower if narrower > 1 else 0)
        end = [(columns[-1], r) for r in (beside or rows[:-1])] if len(rows) > 1 else []
        cells = [*body, *end, *low]
        short = all(c[1] - c[0] <= across + 1e-9 and r[1] - r[0] <= up + 1e-9 for c, r in cells)
        if len(cells) > len(_LETTERS) or not short:
            continue
        cells.sort(key=lambda x: (x[1][0], x[0][0]))
        out.append([
            replace(part, width=c[1] - c[0], height=r[1] - r[0], suffix=_LETTERS[n],
                    offset=(c[0], r[0]), holes=_clipped(part, c, r))
            for n, (c, r) in enumerate(cells)
        ])  # fmt: skip
    return out or [[part]]


def _equal(start: float, end: float, count: int) -> list[tuple[float, float]]:
    """A length [m] in equal pieces; none for a count of 0."""
    step = (end - start) / max(count, 1)
    return [(start + n * step, start + (n + 1) * step) for n in range(count)]


_LETTERS = [*string.ascii_lowercase, *(a + b for a in "abcdefgh" for b in string.ascii_lowercase)]


def _spans(whole: float, most: float, lap: float) -> list[tuple[float, float]]:
    """A length [m] as pieces no longer than ``most``, each overlapping the one before by ``lap``."""
    if whole <= most + 1e-9:
        return [(0.0, whole)]
    step = most - lap
    count = math.ceil((whole - lap) / step - 1e-9)
    return [(n * step, min(n * step + most, whole)) for n in range(count)]


def _clipped(
    part: PartToCut, across: tuple[float, float], up: tuple[float, float]
) -> tuple[Hole, ...]:
    """Holes of the whole as they lie in one piece; one that runs out over its edge is marked."""
    out = []
    for hole in part.holes:
        at = (hole.at[0] - across[0], hole.at[1] - up[0])
        size = (across[1] - across[0], up[1] - up[0])
        ends = [(at[k] - hole.size[k] / 2, at[k] + hole.size[k] / 2) for k in (0, 1)]
        if any(e[1] <= 0.0 or e[0] >= size[k] for k, e in enumerate(ends)):
            continue
        over = any(e[0] < 0.0 or e[1] > size[k] for k, e in enumerate(ends))
        out.append(replace(hole, at=at, edge=over))
    return tuple(out)


def _told(
    packed: Packing, parts: Sequence[PartToCut], stocks: Sequence[Stock], rooms: Sequence[Bin],
    kerf: float, trim: float,
) -> Job:  # fmt: skip
    """The packing in metres, sheet by sheet, the fullest first."""
    roll, by_length = stocks[0].roll, packed.by_length
    trim = 0.0 if roll else trim
    sheets = [
        _sheet(p, parts, stocks[p.bin], rooms[p.bin], packed.bought if by_length else 0, kerf, trim,
               len(stocks) > 1)
        for p in packed.patterns
    ]  # fmt: skip
    sheets.sort(key=lambda s: (-s.used, min(x.part.number for x in s.laid)))
    bought, bound = packed.bought / MICRO, packed.bound / MICRO
    if not by_length:
        # Trim is bought too; the bound's sheets have it as well.
        whole = math.fsum(s.width * s.height for s in sheets)
        bound = whole * packed.bound / packed.bought
        bought = whole
    first = parts[0]
    return Job(first.material, first.label, first.thickness, roll, kerf, trim, tuple(sheets), bought,
               bound)  # fmt: skip


def _sheet(
    pattern: Pattern, parts: Sequence[PartToCut], stock: Stock, room: Bin, length: int, kerf: float,
    trim: float, several: bool,
) -> Sheet:  # fmt: skip
    high = length or room.height
    order = cut_order(pattern.spots, room.width, high, round(kerf * MICRO))
    assert order is not None, "sheets are filled by cuts from edge to edge only"
    laid = []
    for spot in pattern.spots:
        part = parts[spot.item]
        turned = spot.width != round(part.width * MICRO)
        laid.append(
            Laid(part, spot.x / MICRO + trim, spot.y / MICRO + trim, spot.width / MICRO,
                 spot.height / MICRO, turned)
        )  # fmt: skip
    cuts = tuple(
        Cut(s.number, s.upright, s.at / MICRO + trim, s.low / MICRO + trim, s.high / MICRO + trim)
        for s in order.steps
    )
    offcuts = tuple(
        Offcut(x / MICRO + trim, y / MICRO + trim, w / MICRO, h / MICRO)
        for x, y, w, h in order.offcuts
        if min(w, h) / MICRO >= SMALLEST_OFFCUT
    )
    key = price_key(stock, parts[0].thickness, several)
    return Sheet(stock, key, room.width / MICRO + 2 * trim, high / MICRO + 2 * trim, tuple(laid), cuts,
                 offcuts)  # fmt: skip
