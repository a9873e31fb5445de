"""Shapes that machines are made of: parts of rings round the shaft, and turned parts. The shaft is z, metres, radians."""

from __future__ import annotations

import numpy as np

from visual.mesh import Mesh, joined


def sector(inner: float, outer: float, start: float, end: float, back: float, front: float, colour) -> Mesh:
    """A part of a ring round z: from radius `inner` to `outer`, from angle `start` counter-clockwise to `end`, from z
    `back` to `front`. The curved walls are smooth, the others flat; a whole turn has no end walls."""
    count = max(2, int(np.ceil(abs(end - start) / np.radians(7.5))) + 1)
    angles = np.linspace(start, end, count)
    out = np.column_stack([np.cos(angles), np.sin(angles), np.zeros(count)])
    z = np.array([0.0, 0.0, 1.0])
    near_in, near_out, far_in, far_out = (
        radius * out + height * z for height in (front, back) for radius in (inner, outer)
    )
    walls = [
        _strip(far_out, near_out, out, colour),
        _strip(near_in, far_in, -out, colour),
        _strip(near_out, near_in, np.tile(z, (count, 1)), colour),
        _strip(far_in, far_out, np.tile(-z, (count, 1)), colour),
    ]
    if end - start < 2 * np.pi - 1e-9:
        for at, sign in ((0, -1.0), (-1, 1.0)):
            sideways = sign * np.array([-out[at, 1], out[at, 0], 0.0])
            corners = (far_in, far_out, near_in, near_out) if sign < 0 else (far_out, far_in, near_out, near_in)
            low_left, low_right, high_left, high_right = (corner[at] for corner in corners)
            walls.append(_strip(np.array([low_left, low_right]), np.array([high_left, high_right]), np.tile(sideways, (2, 1)), colour))
    return joined(*walls)


def turned(outline, colour, sides: int = 16) -> Mesh:
    """A part as a lathe makes it: `outline` (n, 2) of z and radius, z rising, carried round z; smooth."""
    line = np.asarray(outline, float)
    angles = np.linspace(0, 2 * np.pi, sides + 1)
    out = np.column_stack([np.cos(angles), np.sin(angles), np.zeros(sides + 1)])
    z = np.array([0.0, 0.0, 1.0])
    slope = np.gradient(line, axis=0)
    slope /= np.linalg.norm(slope, axis=1, keepdims=True)
    rings = [radius * out + height * z for height, radius in line]
    normals = [along_z * out - outward * z for along_z, outward in slope]
    points, pointing = np.vstack(rings), np.vstack(normals)
    row = sides + 1
    i, j = np.meshgrid(np.arange(len(line) - 1), np.arange(sides), indexing="ij")
    a, b = i * row + j, i * row + j + 1
    triangles = np.concatenate([np.stack([a, b, b + row], -1), np.stack([a, b + row, a + row], -1)]).reshape(-1, 3)
    return Mesh(points, pointing, np.tile(np.asarray(colour, float), (len(points), 1)), triangles)


def _strip(first, second, normals, colour) -> Mesh:
    """The surface between two lines of points (n, 3), seen from where `first` runs to the right below `second`."""
    count = len(first)
    a = np.arange(count - 1)
    triangles = np.concatenate([np.column_stack([a, a + 1, a + 1 + count]), np.column_stack([a, a + 1 + count, a + count])])
    return Mesh(np.vstack([first, second]), np.vstack([normals, normals]), np.tile(np.asarray(colour, float), (2 * count, 1)), triangles)
