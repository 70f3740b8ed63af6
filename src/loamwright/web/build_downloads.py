"""Files of the build that can be taken away: lists, the calendar, the saw's drawings, the pack."""

from __future__ import annotations

import asyncio
import datetime
import time
from collections.abc import Awaitable, Callable
from typing import TYPE_CHECKING

from loamwright.web.engines import JobFailedError

if TYPE_CHECKING:
    from loamwright.plan.whole import Plan
    from loamwright.web.desk import Desk

WAIT = 60.0
"""Seconds a download waits for the plan of the build."""

Made = tuple[bytes, str, str, str]
"""A file's bytes, what it is called after the habitat, its ending and its kind."""


async def _plan(desk: Desk) -> Plan:
    for _ in range(int(WAIT / 0.1)):
        plan = desk.building.planned.plan
        if "plan" in desk.troubles:
            raise JobFailedError(desk.troubles["plan"])
        if plan is not None and "plan" not in desk.busy:
            return plan
        await asyncio.sleep(0.1)
    raise TimeoutError


async def _shopping(desk: Desk, system: str) -> Made:
    from loamwright.report.plan_out import shopping_csv

    made = shopping_csv((await _plan(desk)).money, system)
    return made.encode(), "shopping", "csv", "text/csv"


async def _order(desk: Desk, system: str) -> Made:
    from loamwright.report.order_blocks import start_date
    from loamwright.report.plan_out import order_csv

    plan = await _plan(desk)
    assert desk.habitat is not None
    start = start_date(desk.habitat.workshop.start)
    return order_csv(plan.order, start, system).encode(), "order-of-work", "csv", "text/csv"


async def _calendar(desk: Desk, system: str) -> Made:
    from loamwright.report.calendar_ics import order_ics
    from loamwright.report.order_blocks import start_date

    plan = await _plan(desk)
    assert desk.habitat is not None
    start = start_date(desk.habitat.workshop.start)
    if start is None:
        raise JobFailedError("say on which day the build begins, then there is a calendar")
    now = datetime.datetime(*time.gmtime()[:6], tzinfo=datetime.UTC)
    content = order_ics(plan.order, desk.habitat.name, start, now, system)
    return content, "order-of-work", "ics", "text/calendar"


async def _cuts(desk: Desk, _: str) -> Made:
    from loamwright.report.pack_workshop import cuts_csv

    return cuts_csv((await _plan(desk)).cuts).encode(), "cuts", "csv", "text/csv"


async def _saw(desk: Desk, system: str) -> Made:
    plan = await _plan(desk)
    made = await desk.engines.run(desk.id, "cut_files", plan=plan, system=system)
    return made, "cuts-dxf", "zip", "application/zip"


async def _handover(desk: Desk, system: str) -> Made:
    from loamwright.report.plan_out import handover_csv

    made = handover_csv((await _plan(desk)).checks, system)
    return made.encode(), "handover", "csv", "text/csv"


async def _pack(desk: Desk, _: str) -> Made:
    packed = desk.building.packed
    if packed is None:
        raise JobFailedError("no pack has been made yet; make one on the page Build")
    return packed.content, "pack", "zip", "application/zip"


MAKERS: dict[str, Callable[[Desk, str], Awaitable[Made]]] = {
    "shopping.csv": _shopping, "order-of-work.csv": _order, "order-of-work.ics": _calendar,
    "cuts.csv": _cuts, "cuts.zip": _saw, "handover.csv": _handover, "pack.zip": _pack,
}  # fmt: skip
"""What makes each of them, by the name in its address."""
