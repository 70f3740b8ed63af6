"""Adaptors that let a reference sheet speak of life tables and stage matrices."""

from __future__ import annotations

import math

import numpy as np

from loamwright.physics import life_tables

Table = list[list[float]]


def rate_and_reproduction(ages: list[float], alive: list[float], young: list[float]) -> list[float]:
    """Net reproduction, intrinsic rate and generation time."""
    net = life_tables.net_reproduction(alive, young)
    rate = life_tables.intrinsic_rate(ages, alive, young)
    return [net, rate, life_tables.generation_time(net, rate)]


def log_rate(matrix: Table) -> float:
    return math.log(life_tables.growth_factor(matrix))


def matrix_measures(matrix: Table) -> list[float]:
    """Growth factor, net reproduction and generation time; the first row is births."""
    births = np.zeros_like(np.asarray(matrix))
    births[0] = matrix[0]
    factor = life_tables.growth_factor(matrix)
    net = life_tables.matrix_reproduction(matrix, births)
    return [factor, net, life_tables.generation_time(net, math.log(factor))]


def stays_and_moves(survival: list[float], duration: list[float]) -> list[float]:
    """Share of each stage that stays, then share of each but the last that moves on."""
    matrix = life_tables.stage_matrix(survival, duration, [0.0] * len(survival))
    return [*np.diag(matrix).tolist(), *np.diag(matrix, -1).tolist()]
