"""The plan of a build as a person asks for it: what to buy, what it costs, in which order, handover."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING

from loamwright.workflow import Checked, Note, check_habitat, quiet, results_in, small_life

if TYPE_CHECKING:
    from loamwright.engine.life.decomposers_study import Found
    from loamwright.habitat.habitat import Habitat
    from loamwright.plan.handover import Check
    from loamwright.plan.lines import Line
    from loamwright.plan.money import MoneyPlan
    from loamwright.plan.order import OrderOfWork


@dataclass(frozen=True)
class BuildPlan:
    """What a build takes: the shopping list (``lines``), its ``money``, the ``order`` of work and the
    measurements of the ``handover``."""

    habitat: Habitat
    lines: tuple[Line, ...]
    money: MoneyPlan
    order: OrderOfWork
    handover: tuple[Check, ...]


def build_plan(
    habitat: Habitat, *, checked: Checked | None = None, life: Found | None = None,
    instead: Iterable[Line] = (), kept: Path | None = None, note: Note = quiet,
) -> BuildPlan:  # fmt: skip
    """The plan of a habitat's build.

    Parameters
    ----------
    habitat : Habitat
        The habitat.
    checked : Checked, optional
        What a check with every engine said of it; run here when left out.
    life : Found, optional
        What lives in its ground; computed here when left out.
    instead : iterable of Line
        Lines of other parts of the plan: whole sheets, power supplies, cable (see
        `plan.quantities.shopping_list`).
    kept : Path, optional
        Folder of results kept between runs.

    Raises
    ------
    BalanceError
        If an engine's own balance does not close.
    """
    from loamwright.engine.ground.outlook import amounts
    from loamwright.plan.handover import handover_checks
    from loamwright.plan.money import plan_money
    from loamwright.plan.order import order_of_work
    from loamwright.plan.quantities import shopping_list
    from loamwright.plan.running import year_of

    found = checked if checked is not None else check_habitat(habitat, kept=kept, note=note)
    if life is None and found.water is not None:
        life = small_life(habitat, found.light, found.water, results_in(kept), note)
    note("writing the plan")
    ground = amounts(habitat)
    counts = (
        {x.key: n for x, n in zip(life.community.species, life.counts(), strict=True)}
        if life is not None
        else {}
    )
    lines = shopping_list(habitat, ground, counts, instead)
    moist = sum(x.moist for x in ground.layers)
    ready = None if life is None else life.moved_in[1]
    order = order_of_work(habitat, ready, moist)
    outlooks = found.water.outlooks if found.water is not None else ()
    year = year_of(habitat, found.climate, ground, outlooks, life)
    return BuildPlan(
        habitat, lines, plan_money(habitat.money, lines, order.labour, year), order,
        handover_checks(habitat, found.climate, found.light, found.findings),
    )  # fmt: skip
