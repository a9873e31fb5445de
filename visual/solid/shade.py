"""Shade baked into the colours of a shape: a corner is darker the more of what it faces is other faces or the ground.

It is worked out once, when a shape is built, and costs nothing while it is looked at. Nearness is reckoned as radiation is
between two small discs (M. Bunnell, "Dynamic ambient occlusion and indirect lighting", GPU Gems 2, 2005; from memory).
"""

from __future__ import annotations

from functools import lru_cache

import numpy as np

from visual.solid.mesh import Mesh, block, joined

DEEPEST = 0.62  # share of its light that a corner loses where it faces nothing but other faces
MOST_FACES = 2500  # of more than these every second one, or third, stands for its neighbours too
AT_ONCE = 64  # corners worked on together: what comes of them stays in the processor's cache, and is a seventh of the work of 400


def shaded(shape: Mesh, *others: Mesh, ground: float | None = None) -> Mesh:
    """The shape with its own shade and that of `others` on its colours; `ground`: the height, y, of what it stands on."""
    hidden = hidden_share(shape, joined(shape, *others))
    if ground is not None:
        down = np.clip(-shape.normals[:, 1], 0.0, 1.0)
        near = np.exp(-np.clip(shape.points[:, 1] - ground, 0.0, None) / 0.05)
        hidden = np.maximum(hidden, down * near)
    return with_shade(shape, hidden)


def with_shade(shape: Mesh, hidden) -> Mesh:
    """The shape with its colours darkened by the share of the light, (n,), that is `hidden` from each corner."""
    left = 1.0 - DEEPEST * np.clip(np.asarray(hidden, float), 0.0, 1.0)
    return Mesh(shape.points, shape.normals, shape.colours * left[:, None], shape.triangles)


def hidden_share(shape: Mesh, among: Mesh) -> np.ndarray:
    """For each corner of `shape` the share, 0 to 1, of what it faces that the faces of `among` hide."""
    corners = among.points[among.triangles[:: 1 + len(among.triangles) // MOST_FACES]]
    return _hidden(*(part.astype(np.float32).tobytes() for part in (shape.points, shape.normals, corners)), len(among.triangles))


@lru_cache(64)  # scenes have hands, meters and machines alike
def _hidden(own_points: bytes, own_normals: bytes, corners: bytes, count: int) -> np.ndarray:
    """Of points and normals, (n, 3), and the three corners of each face, (m, 3, 3), of `count`."""
    step = 1 + count // MOST_FACES
    all_points, all_normals = (np.frombuffer(part, np.float32).reshape(-1, 3) for part in (own_points, own_normals))
    a, b, c = np.moveaxis(np.frombuffer(corners, np.float32).reshape(-1, 3, 3), 1, 0)
    across = np.cross(b - a, c - a)
    area = 0.5 * np.linalg.norm(across, axis=1)
    real = area > 1e-12
    middle, facing, area = ((a + b + c) / 3)[real], (across[real] / (2 * area[real, None])), step * area[real]
    parts = []
    level = np.einsum("ij,ij->i", middle, facing)
    for start in range(0, len(all_points), AT_ONCE):  # each distance and cosine by a product of matrices, which is quick
        points, normals = all_points[start : start + AT_ONCE], all_normals[start : start + AT_ONCE]
        far = (points**2).sum(axis=1)[:, None] + (middle**2).sum(axis=1) - 2 * points @ middle.T
        far = np.maximum(far, 1e-7)
        toward = np.maximum(normals @ middle.T - (normals * points).sum(axis=1)[:, None], 0)
        back = np.maximum(points @ facing.T - level, 0)
        parts.append((toward * back * area / (far * (np.pi * far + area))).sum(axis=1))
    share = np.clip(np.concatenate(parts), 0.0, 1.0)
    share.flags.writeable = False
    return share


def bench_plate(half_across: float, half_along: float, top: float, thick: float, colour, stands, cells: int = 17) -> Mesh:
    """A plate whose upper face is at the height `top`, y, round z, dark where something stands on it: `stands`, each (x, z, half
    across, half along) of what it touches; reckoned at the corners of `cells` by `cells`. Its middle lies below the origin."""
    body = block([0, top - thick / 2, 0], [2 * half_across, thick, 2 * half_along], colour)
    x, z = (np.linspace(-half, half, cells + 1) for half in (half_across, half_along))
    across, along = (part.ravel() for part in np.meshgrid(x, z, indexing="ij"))
    dark = np.zeros(len(across))
    for at_x, at_z, half_x, half_z in stands:
        off = np.hypot(np.clip(np.abs(across - at_x) - half_x, 0, None), np.clip(np.abs(along - at_z) - half_z, 0, None))
        dark = np.maximum(dark, np.exp(-off / 0.016))
    i, j = np.meshgrid(np.arange(cells), np.arange(cells), indexing="ij")
    a, row = i * (cells + 1) + j, cells + 1
    triangles = np.concatenate([np.stack([a, a + 1, a + row + 1], -1), np.stack([a, a + row + 1, a + row], -1)]).reshape(-1, 3)
    points = np.column_stack([across, np.full(len(across), top + 0.0004), along])
    face = Mesh(points, np.tile([0.0, 1.0, 0.0], (len(points), 1)), np.tile(np.asarray(colour, float), (len(points), 1)), triangles)
    return joined(body, with_shade(face, dark))
