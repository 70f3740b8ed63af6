"""The loops worth compiling: what a lamp sends to a point, and what lies on the way.

They hold no lock on the interpreter, so `parallel.over_rows` runs them on every core; each output row
is summed by one core in a fixed order, so the digits do not depend on how many there are.
"""

from __future__ import annotations

import math

import numpy as np
from numba import njit

from loamwright.engine.light.emitters import BEAM, CYLINDER, STRIP
from loamwright.physics import mesh_screen

_screen = njit(nogil=True, cache=True)(mesh_screen.screen_transmittance_toward)
_sheet = njit(nogil=True, cache=True)(mesh_screen.sheet_transmittance)

BANDS = 5
PAR = 2
"""With ultraviolet B, the band whose share tells whether a way is dark."""

# Gauss points on -1..1 for the arc of a cylinder that a point sees.
_NODES_4, _WEIGHTS_4 = np.polynomial.legendre.leggauss(4)
_NODES_8, _WEIGHTS_8 = np.polynomial.legendre.leggauss(8)

FAR = 8.0
"""Distance over radius beyond which four points round the arc of a cylinder serve for eight (they
are within 0.1 % of the whole arc there, within 0.01 % from 25 on)."""


@njit(cache=True)
def _line(wx, wy, wz, length, pieces, nx, ny, nz, mx, my, mz, ux, uy, uz,
          passed, row, first, scale, out):  # fmt: skip
    """Add to ``out`` the irradiance of a line on a facet, piece by piece.

    With t the angle from the foot of the perpendicular, the integrand of a line of a Lambertian
    face is (a cos^2 t + b sin t cos t) dt / d, times the cosine to the face's normal m, which does
    not change along the line.
    """
    s0 = wx * ux + wy * uy + wz * uz
    ex, ey, ez = wx - s0 * ux, wy - s0 * uy, wz - s0 * uz
    d = math.sqrt(ex * ex + ey * ey + ez * ez)
    if d < 1e-9:
        return
    ex, ey, ez = ex / d, ey / d, ez / d
    c = mx * ex + my * ey + mz * ez
    if c <= 0.0:
        return
    factor = scale * c / d
    a = -(nx * ex + ny * ey + nz * ez)
    b = nx * ux + ny * uy + nz * uz
    # Bounds of tan t within the receiver's horizon.
    low, high = -1e30, 1e30
    if abs(b) > 1e-12:
        if b > 0.0:
            low = -a / b
        else:
            high = -a / b
    elif a <= 0.0:
        return
    step = length / (pieces * d)
    x0 = -s0 / d
    x0c = min(max(x0, low), high)
    t0, c0 = math.atan(x0c), 1.0 / (1.0 + x0c * x0c)
    for i in range(pieces):
        # sin t cos t and sin^2 t follow from tan t without further trigonometry.
        x1c = min(max(x0 + (i + 1) * step, low), high)
        c1 = 1.0 / (1.0 + x1c * x1c)
        t1 = math.atan(x1c)
        if x1c > x0c and passed[row, first + i, PAR] + passed[row, first + i, 0] > 0.0:
            part = factor * 0.5 * (a * (t1 - t0 + x1c * c1 - x0c * c0) + b * (c0 - c1))
            for k in range(BANDS):
                out[k] += part * passed[row, first + i, k]
        t0, x0c, c0 = t1, x1c, c1


@njit(cache=True)
def _table_value(table, cosine, x, y):
    rows, columns = table.shape
    v = math.acos(min(1.0, max(-1.0, cosine))) / math.pi * (columns - 1)
    h = math.atan2(y, x)
    if h < 0.0:
        h += 2 * math.pi
    h = h / (2 * math.pi) * (rows - 1)
    i, j = min(int(h), rows - 2), min(int(v), columns - 2)
    fh, fv = h - i, v - j
    return (
        (1 - fh) * ((1 - fv) * table[i, j] + fv * table[i, j + 1])
        + fh * ((1 - fv) * table[i + 1, j] + fv * table[i + 1, j + 1])
    )  # fmt: skip


@njit(nogil=True, cache=True)
def irradiance(points, index, normals, passed, kind, start, line, length, normal, radius, weight,
               first, pieces, table, narrow):  # fmt: skip
    """Irradiance per watt of the lamp's flux in each band on each facet, (M, 5) [1/m2].

    ``points`` (N, 3); facets: ``index`` (M,) the point each sits at, ``normals`` (M, 3);
    ``passed`` (N, R, 5) share let through to each sample, negative where a ray was not wanted;
    ``narrow`` (5,) share of each band in a spot's beam, the rest being Lambertian.
    """
    facets = len(index)
    result = np.zeros((facets, BANDS))
    for row in range(facets):
        out = result[row]
        at = index[row]
        px, py, pz = points[at, 0], points[at, 1], points[at, 2]
        nx, ny, nz = normals[row, 0], normals[row, 1], normals[row, 2]
        for e in range(len(kind)):
            qx, qy, qz = start[e, 0], start[e, 1], start[e, 2]
            ux, uy, uz = line[e, 0], line[e, 1], line[e, 2]
            mx, my, mz = normal[e, 0], normal[e, 1], normal[e, 2]
            wx, wy, wz = px - qx, py - qy, pz - qz
            if kind[e] == STRIP:
                _line(wx, wy, wz, length[e], pieces[e], nx, ny, nz, mx, my, mz,
                      ux, uy, uz, passed, at, first[e],
                      weight[e] / (math.pi * length[e]), out)  # fmt: skip
            elif kind[e] == CYLINDER:
                s0 = wx * ux + wy * uy + wz * uz
                ex, ey, ez = wx - s0 * ux, wy - s0 * uy, wz - s0 * uz
                h = math.sqrt(ex * ex + ey * ey + ez * ez)
                r = radius[e]
                if h <= r * 1.0001:
                    continue
                ex, ey, ez = ex / h, ey / h, ez / h
                gx, gy, gz = uy * ez - uz * ey, uz * ex - ux * ez, ux * ey - uy * ex
                half = math.acos(r / h)
                nodes, shares = (_NODES_4, _WEIGHTS_4) if h > FAR * r else (_NODES_8, _WEIGHTS_8)
                for k in range(len(nodes)):
                    node, share = nodes[k], shares[k]
                    angle = half * node
                    ca, sa = math.cos(angle), math.sin(angle)
                    fx, fy, fz = ca * ex + sa * gx, ca * ey + sa * gy, ca * ez + sa * gz
                    _line(wx - r * fx, wy - r * fy, wz - r * fz, length[e],
                          pieces[e], nx, ny, nz, fx, fy, fz, ux, uy, uz, passed, at,
                          first[e], share * half * weight[e]
                          / (2 * math.pi * math.pi * length[e]), out)  # fmt: skip
            else:
                if passed[at, first[e], 0] < 0.0:
                    continue
                dist2 = wx * wx + wy * wy + wz * wz
                dist = math.sqrt(dist2)
                facing = -(nx * wx + ny * wy + nz * wz) / dist
                if facing <= 0.0:
                    continue
                cosine = (mx * wx + my * wy + mz * wz) / dist
                if kind[e] == BEAM:
                    if cosine <= 0.0:
                        continue
                    n = radius[e]
                    beam = (n + 1) / (2 * math.pi) * cosine**n
                    wide = cosine / math.pi
                    part = weight[e] * facing / dist2
                    for k in range(BANDS):
                        share = narrow[k] * beam + (1.0 - narrow[k]) * wide
                        out[k] += part * share * passed[at, first[e], k]
                else:
                    vx, vy, vz = uy * mz - uz * my, uz * mx - ux * mz, ux * my - uy * mx
                    intensity = _table_value(
                        table, cosine, wx * ux + wy * uy + wz * uz, wx * vx + wy * vy + wz * vz
                    )
                    part = weight[e] * intensity * facing / dist2
                    for k in range(BANDS):
                        out[k] += part * passed[at, first[e], k]
    return result


@njit(nogil=True, cache=True)
def wanted(points, normals, all_round, kind, normal, first, pieces, sample):
    """Which rays from points to samples can carry light, (N, R) bool: the sample stands (with a
    margin of its own length) above the facet's horizon and shines its way."""
    n, r = len(points), len(sample)
    out = np.zeros((n, r), np.bool_)
    for i in range(n):
        for e in range(len(kind)):
            for j in range(first[e], first[e] + pieces[e]):
                dx = sample[j, 0] - points[i, 0]
                dy = sample[j, 1] - points[i, 1]
                dz = sample[j, 2] - points[i, 2]
                up = dx * normals[i, 0] + dy * normals[i, 1] + dz * normals[i, 2]
                if not all_round and up < -0.03:
                    continue
                if kind[e] != CYLINDER and kind[e] <= BEAM:
                    ahead = -(dx * normal[e, 0] + dy * normal[e, 1] + dz * normal[e, 2])
                    if ahead <= 0.0:
                        continue
                out[i, j] = True
    return out


@njit(nogil=True, cache=True)
def nodes_wanted(wants, corners, nodes):
    """Which nodes (N, Q) are corners of a wanted piece."""
    n, r = wants.shape
    out = np.zeros((n, nodes), np.bool_)
    for i in range(n):
        for j in range(r):
            if wants[i, j]:
                for k in range(corners.shape[1]):
                    out[i, corners[j, k]] = True
    return out


@njit(nogil=True, cache=True)
def seen_by_corners(wants, corners, seen):
    """Share of each piece's corners (N, R) that are seen, from the nodes seen (N, Q)."""
    n, r = wants.shape
    out = np.zeros((n, r), np.float32)
    for i in range(n):
        for j in range(r):
            if wants[i, j]:
                for k in range(corners.shape[1]):
                    if seen[i, corners[j, k]]:
                        out[i, j] += 0.25
    return out


@njit(nogil=True, cache=True)
def shadow_rays(points, targets, rows, columns, skin):
    """Starts, directions and lengths of rays from points to targets, as the tracer takes them, kept off
    both ends by ``skin`` [m]."""
    count = len(rows)
    start = np.empty((count, 3), np.float32)
    way = np.empty((count, 3), np.float32)
    reach = np.empty(count, np.float32)
    for i in range(count):
        p, q = rows[i], columns[i]
        dx = targets[q, 0] - points[p, 0]
        dy = targets[q, 1] - points[p, 1]
        dz = targets[q, 2] - points[p, 2]
        span = max(math.sqrt(dx * dx + dy * dy + dz * dz), 1e-9)
        dx, dy, dz = dx / span, dy / span, dz / span
        start[i, 0] = points[p, 0] + skin * dx
        start[i, 1] = points[p, 1] + skin * dy
        start[i, 2] = points[p, 2] + skin * dz
        way[i, 0], way[i, 1], way[i, 2] = dx, dy, dz
        reach[i] = max(span - 2 * skin, 0.0)
    return start, way, reach


@njit(nogil=True, cache=True)
def _sheet_table(corner, edge_u, edge_v, mesh, pitch, wire, clear, refraction):
    """Everything about the sheets in one array (S, 24), since every array handed to a loop's inner
    function costs time: unit normal and offset of the plane, unit edges with their lengths, corner,
    mesh, pitch, wire, transmittances, refractive index."""
    table = np.empty((len(corner), 24))
    for s in range(len(corner)):
        ux, uy, uz = edge_u[s, 0], edge_u[s, 1], edge_u[s, 2]
        vx, vy, vz = edge_v[s, 0], edge_v[s, 1], edge_v[s, 2]
        nx, ny, nz = uy * vz - uz * vy, uz * vx - ux * vz, ux * vy - uy * vx
        size = math.sqrt(nx * nx + ny * ny + nz * nz)
        u, v = math.sqrt(ux * ux + uy * uy + uz * uz), math.sqrt(vx * vx + vy * vy + vz * vz)
        row = table[s]
        row[0], row[1], row[2] = nx / size, ny / size, nz / size
        row[3] = (corner[s, 0] * nx + corner[s, 1] * ny + corner[s, 2] * nz) / size
        row[4], row[5], row[6], row[7] = ux / u, uy / u, uz / u, u
        row[8], row[9], row[10], row[11] = vx / v, vy / v, vz / v, v
        row[12], row[13], row[14] = corner[s, 0], corner[s, 1], corner[s, 2]
        row[15], row[16], row[17] = mesh[s], pitch[s], wire[s]
        for k in range(BANDS):
            row[18 + k] = clear[s, k]
        row[23] = refraction[s]
    return table


@njit(nogil=True, cache=True)
def _dim(ox, oy, oz, dx, dy, dz, span, share, sheets):
    """Multiply ``share`` (5,) by what sheets between o and o+d (``span`` long) let through."""
    for s in range(len(sheets)):
        slope = dx * sheets[s, 0] + dy * sheets[s, 1] + dz * sheets[s, 2]
        gap = sheets[s, 3] - (ox * sheets[s, 0] + oy * sheets[s, 1] + oz * sheets[s, 2])
        # Between the ends only where the gap is a part of the slope.
        if gap * slope <= 0.0 or abs(gap) >= abs(slope):
            continue
        t = gap / slope
        hx, hy, hz = (ox + t * dx - sheets[s, 12], oy + t * dy - sheets[s, 13],
                      oz + t * dz - sheets[s, 14])  # fmt: skip
        ux, uy, uz = sheets[s, 4], sheets[s, 5], sheets[s, 6]
        vx, vy, vz = sheets[s, 8], sheets[s, 9], sheets[s, 10]
        a, b = hx * ux + hy * uy + hz * uz, hx * vx + hy * vy + hz * vz
        if a < 0.0 or a > sheets[s, 7] or b < 0.0 or b > sheets[s, 11]:
            continue
        cosine = abs(slope) / span
        if sheets[s, 15] == 1.0:
            # The wires run along the two edges.
            along_u, along_v = dx * ux + dy * uy + dz * uz, dx * vx + dy * vy + dz * vz
            through = _screen(along_u / span, along_v / span, cosine, sheets[s, 16], sheets[s, 17])
            for k in range(BANDS):
                share[k] *= through
        else:
            for k in range(BANDS):
                share[k] *= _sheet(cosine, sheets[s, 18 + k], sheets[s, 23])


@njit(nogil=True, cache=True)
def _crown_table(half, extinction, bands):
    """Everything about the crowns in one array (C, 7 + bands): room for where a point stands from
    the middle in half axes and how far outside, then inverse half axes, then extinctions."""
    table = np.zeros((len(half), 7 + len(bands)))
    for c in range(len(half)):
        for k in range(3):
            table[c, 4 + k] = 1.0 / half[c, k]
        for k in range(len(bands)):
            table[c, 7 + k] = extinction[c, bands[k]]
    return table


@njit(nogil=True, cache=True)
def _stand(ox, oy, oz, centre, crowns):
    """Write where a point stands from each crown into the table."""
    for c in range(len(crowns)):
        x = (ox - centre[c, 0]) * crowns[c, 4]
        y = (oy - centre[c, 1]) * crowns[c, 5]
        z = (oz - centre[c, 2]) * crowns[c, 6]
        crowns[c, 0], crowns[c, 1], crowns[c, 2] = x, y, z
        crowns[c, 3] = x * x + y * y + z * z - 1.0


@njit(nogil=True, cache=True)
def _leaves(dx, dy, dz, most, span, crowns, depth):
    """Add to ``depth`` the optical depth of crowns along d up to ``most`` times d, ``span`` the
    length of d; True if any was met."""
    met = False
    for c in range(len(crowns)):
        gx, gy, gz = dx * crowns[c, 4], dy * crowns[c, 5], dz * crowns[c, 6]
        qb = crowns[c, 0] * gx + crowns[c, 1] * gy + crowns[c, 2] * gz
        qc = crowns[c, 3]
        if qc > 0.0 and qb >= 0.0:
            continue
        qa = gx * gx + gy * gy + gz * gz
        root = qb * qb - qa * qc
        if root <= 0.0:
            continue
        root = math.sqrt(root)
        t0, t1 = max(0.0, (-qb - root) / qa), min(most, (-qb + root) / qa)
        if t1 > t0:
            met = True
            for k in range(len(depth)):
                depth[k] += crowns[c, 7 + k] * (t1 - t0) * span
    return met


@njit(nogil=True, cache=True)
def pass_through(points, sample, spots, seen, spot, wants, corner, edge_u, edge_v, mesh, pitch, wire,
                 clear, refraction, centre, half, extinction):  # fmt: skip
    """Share of each band that gets from each sample to each point, (N, R, 5): what solids leave of
    it (``seen``, 0..1) dimmed by sheets and crowns on the way to its middle, or to the seen ``spot``
    of one seen in part; -1 where the ray was not wanted."""
    n, r = wants.shape
    out = np.empty((n, r, BANDS), np.float32)
    share, depth = np.empty(BANDS), np.empty(BANDS)
    sheets = _sheet_table(corner, edge_u, edge_v, mesh, pitch, wire, clear, refraction)
    crowns = _crown_table(half, extinction, np.arange(BANDS))
    for i in range(n):
        px, py, pz = points[i, 0], points[i, 1], points[i, 2]
        _stand(px, py, pz, centre, crowns)
        for j in range(r):
            if not wants[i, j]:
                for k in range(BANDS):
                    out[i, j, k] = -1.0
            elif seen[i, j] == 0.0:
                for k in range(BANDS):
                    out[i, j, k] = 0.0
            else:
                for k in range(BANDS):
                    share[k], depth[k] = seen[i, j], 0.0
                at = spot[i, j]
                if at < 0:
                    dx, dy, dz = sample[j, 0] - px, sample[j, 1] - py, sample[j, 2] - pz
                else:
                    dx, dy, dz = (spots[j, at, 0] - px, spots[j, at, 1] - py,
                                  spots[j, at, 2] - pz)  # fmt: skip
                span = math.sqrt(dx * dx + dy * dy + dz * dz)
                _dim(px, py, pz, dx, dy, dz, span, share, sheets)
                if _leaves(dx, dy, dz, 1.0, span, crowns, depth):
                    for k in range(BANDS):
                        share[k] *= math.exp(-depth[k])
                for k in range(BANDS):
                    out[i, j, k] = share[k]
    return out


@njit(nogil=True, cache=True)
def along_rays(origins, directions, spans, corner, edge_u, edge_v, mesh, pitch, wire, clear,
               refraction, centre, half, extinction):  # fmt: skip
    """Share of each band let through along rays of given length, (K, 5)."""
    out = np.ones((len(origins), BANDS))
    depth = np.empty(BANDS)
    sheets = _sheet_table(corner, edge_u, edge_v, mesh, pitch, wire, clear, refraction)
    crowns = _crown_table(half, extinction, np.arange(BANDS))
    for i in range(len(origins)):
        ox, oy, oz, span = origins[i, 0], origins[i, 1], origins[i, 2], spans[i]
        dx, dy, dz = directions[i, 0] * span, directions[i, 1] * span, directions[i, 2] * span
        _dim(ox, oy, oz, dx, dy, dz, span, out[i], sheets)
        _stand(ox, oy, oz, centre, crowns)
        depth[:] = 0.0
        if _leaves(dx, dy, dz, 1.0, span, crowns, depth):
            for k in range(BANDS):
                out[i, k] *= math.exp(-depth[k])
    return out


@njit(nogil=True, cache=True)
def gather_rays(points, normals, fan, turns):
    """Directions (N, M, 3) float32: the fan (z up) laid on each normal, turned round it by ``turns``
    (N,) [rad] so that neighbours do not share their sampling error."""
    n, m = len(points), len(fan)
    out = np.empty((n, m, 3), np.float32)
    for i in range(n):
        nx, ny, nz = normals[i, 0], normals[i, 1], normals[i, 2]
        if abs(nx) < 0.9:
            ax, ay, az = 0.0, nz, -ny
        else:
            ax, ay, az = -nz, 0.0, nx
        size = math.sqrt(ax * ax + ay * ay + az * az)
        ax, ay, az = ax / size, ay / size, az / size
        bx, by, bz = ny * az - nz * ay, nz * ax - nx * az, nx * ay - ny * ax
        ct, st = math.cos(turns[i]), math.sin(turns[i])
        for j in range(m):
            x = ct * fan[j, 0] - st * fan[j, 1]
            y = st * fan[j, 0] + ct * fan[j, 1]
            z = fan[j, 2]
            out[i, j, 0] = x * ax + y * bx + z * nx
            out[i, j, 1] = x * ay + y * by + z * ny
            out[i, j, 2] = x * az + y * bz + z * nz
    return out


@njit(nogil=True, cache=True)
def gather_dim(points, directions, spans, hit, centre, half, extinction, groups):
    """Share that crowns let through along gather rays, (N, M, G) float32 for the bands listed in
    ``groups``; 0 where nothing was hit."""
    n, m = hit.shape
    g = len(groups)
    out = np.zeros((n, m, g), np.float32)
    depth = np.empty(g)
    crowns = _crown_table(half, extinction, groups)
    for i in range(n):
        _stand(points[i, 0], points[i, 1], points[i, 2], centre, crowns)
        for j in range(m):
            if hit[i, j] < 0:
                continue
            dx, dy, dz = (float(directions[i, j, 0]), float(directions[i, j, 1]),
                          float(directions[i, j, 2]))  # fmt: skip
            for k in range(g):
                depth[k] = 0.0
            met = _leaves(dx, dy, dz, float(spans[i, j]), 1.0, crowns, depth)
            for k in range(g):
                out[i, j, k] = math.exp(-depth[k]) if met else 1.0
    return out


@njit(nogil=True, cache=True)
def gather(hit, dim, weights, radiosity, group_of_column):
    """Irradiance from surfaces, (N, C): for each point the weighted mean of the radiosity (P, C) its
    rays meet. ``weights`` (N, M) sum to 1 over a full cosine fan; ``dim`` (N, M, G) or (0, 0, 0) when
    nothing dims; ``group_of_column`` (C,) the dimming group of each column."""
    n, m = hit.shape
    columns = radiosity.shape[1]
    out = np.zeros((n, columns))
    dims = len(dim) > 0
    for i in range(n):
        for j in range(m):
            patch = hit[i, j]
            if patch < 0:
                continue
            w = weights[j]
            for c in range(columns):
                value = w * radiosity[patch, c]
                if dims:
                    value *= dim[i, j, group_of_column[c]]
                out[i, c] += value
    return out
