"""The way an animal would take from its basking place to a retreat."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray
from scipy.sparse import coo_matrix
from scipy.sparse.csgraph import dijkstra
from scipy.spatial import cKDTree

from loamwright.engine.light.inside import inside_solid
from loamwright.engine.light.model import LightModel
from loamwright.engine.scene import SHEET

Floats = NDArray[np.float64]

STEP = 0.16
"""How far apart two neighbouring foot places may be [m]: the diagonal of a patch and a bit."""

LIFT = 0.02
"""Height of the animal's back above the surface it walks on [m]."""

SPACING = 0.05
"""Distance between the places along a way at which light is computed [m]."""


def way_between(model: LightModel, start: Floats, end: Floats) -> Floats:
    """Points (N, 3) [m] from ``start`` to ``end`` over the surfaces of a scene, about `SPACING`
    apart, and not through solids. Where no surface leads on, the way bridges the gap straight."""
    scene = model.scene
    walk = scene.kind != SHEET
    foot = scene.centre[walk] + LIFT * scene.normal[walk]
    # Faces that lie against or inside another piece are no place to stand.
    nodes = np.concatenate([foot[~inside_solid(model, foot)], start[None], end[None]])
    first, last = len(nodes) - 2, len(nodes) - 1
    tree = cKDTree(nodes)
    pairs = tree.query_pairs(STEP, output_type="ndarray").reshape(-1, 2)
    pairs = pairs[model.view.solid.free(nodes, nodes, pairs[:, 0], pairs[:, 1])]
    # The two ends may stand off the surfaces: tie each to its nearest foot places.
    for end_node in (first, last):
        near = np.atleast_1d(tree.query(nodes[end_node], k=min(6, len(nodes)))[1])
        ties = [(end_node, int(n)) for n in near if n != end_node]
        pairs = np.concatenate([pairs, np.array(ties, int).reshape(-1, 2)])
    span = np.linalg.norm(nodes[pairs[:, 0]] - nodes[pairs[:, 1]], axis=1)
    graph = coo_matrix((span, (pairs[:, 0], pairs[:, 1])), shape=(len(nodes),) * 2).tocsr()
    _, before = dijkstra(graph, directed=False, indices=first, return_predecessors=True)
    chain = [last]
    while before[chain[-1]] >= 0:
        chain.append(int(before[chain[-1]]))
    corners = nodes[chain[::-1]]
    if chain[-1] != first:
        corners = np.array([start, end])
    return _even(corners)


def _even(corners: Floats) -> Floats:
    leg = np.linalg.norm(np.diff(corners, axis=0), axis=1)
    run = np.concatenate([[0.0], np.cumsum(leg)])
    count = max(2, int(np.ceil(run[-1] / SPACING)) + 1)
    at = np.linspace(0.0, run[-1], count)
    return np.column_stack([np.interp(at, run, corners[:, k]) for k in range(3)])
