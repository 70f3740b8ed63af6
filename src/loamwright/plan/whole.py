"""The whole plan of a build, each part made once and from the same numbers."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from loamwright.engine.climate.results import ClimateRun
from loamwright.engine.findings import Finding
from loamwright.engine.ground.outlook import Outlook
from loamwright.engine.ground.quantities import Quantities
from loamwright.engine.life.decomposers_study import Found
from loamwright.engine.life.plants_year import Planting
from loamwright.engine.light.values import LightResult
from loamwright.habitat.habitat import Habitat
from loamwright.plan.build import Build, build_of
from loamwright.plan.care import Care, care_of
from loamwright.plan.cut_plan import cut_plan
from loamwright.plan.cuts import Cuts
from loamwright.plan.handover import Check, handover_checks
from loamwright.plan.handover_ground import GroundCheck, ground_checks
from loamwright.plan.instruments import instrument_lines
from loamwright.plan.joined import joined_list
from loamwright.plan.lines import Line
from loamwright.plan.money import MoneyPlan, plan_money
from loamwright.plan.order import OrderOfWork, order_of_work
from loamwright.plan.running import year_of


@dataclass(frozen=True, slots=True)
class Plan:
    """What to cut, what holds and feeds it (``build``), everything to buy (``lines``), in which order,
    what it costs, what to measure at the handover, where its ground is felt (``felt``), and how to
    keep it."""

    cuts: Cuts
    build: Build
    lines: tuple[Line, ...]
    order: OrderOfWork
    money: MoneyPlan
    checks: tuple[Check, ...]
    care: tuple[Care, ...]
    felt: tuple[GroundCheck, ...] = ()


def plan_of(
    habitat: Habitat, *, amount: Quantities, days: Mapping[str, ClimateRun] | None = None,
    light: LightResult | None = None, findings: Sequence[Finding] = (),
    outlooks: Sequence[Outlook] = (), planting: Planting | None = None, life: Found | None = None,
) -> Plan:  # fmt: skip
    """The whole plan of a habitat's build.

    Parameters
    ----------
    amount : Quantities
        The ground's amounts, as the ground engine says them.
    days : mapping, optional
        Typical days of the climate by season.
    light : LightResult, optional
        The light at the sites.
    findings : sequence of Finding
        What the engines found, for the handover's limits.
    outlooks : sequence of Outlook
        The ground's water from each season on.
    planting, life
        The plants and the decomposers over a year, where computed.
    """
    runs = days or {}
    cuts = cut_plan(habitat)
    build = build_of(habitat, amount)
    starters: dict[str, int] = {}
    if life is not None:
        kinds = life.community.species
        starters = {x.key: n for x, n in zip(kinds, life.counts(), strict=True)}
    checks = handover_checks(habitat, runs, light, findings)
    lines = (*joined_list(habitat, amount, starters, cuts, build), *instrument_lines(checks))
    moist = sum(layer.moist for layer in amount.layers)
    order = order_of_work(habitat, life.ready[1] if life is not None else None, moist)
    year = year_of(habitat, runs, amount, outlooks, life)
    return Plan(
        cuts, build, lines, order, plan_money(habitat.money, lines, order.labour, year),
        checks, care_of(habitat, runs, outlooks, planting, life), ground_checks(habitat, findings),
    )  # fmt: skip
