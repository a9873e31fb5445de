"""Shapes that machines are made of: parts of rings round the shaft, and turned parts. The shaft is z, metres, radians."""

from __future__ import annotations

import numpy as np

from visual.machines.stator import sector
from visual.solid.mesh import Mesh


def ring_part(inner: float, outer: float, start: float, end: float, back: float, front: float, colour, step: float = 7.5) -> Mesh:
    """A part of a ring round z: from radius `inner` to `outer`, from angle `start` counter-clockwise to `end`, from z
    `back` to `front`, in one `colour`, straight for `step` degrees at a time; a whole ring for a whole turn."""
    angles = np.linspace(start, end, max(2, int(np.ceil((end - start) / np.radians(step))) + 1))
    return sector(angles, inner, outer, (front - back) / 2).moved((0, 0, (front + back) / 2)).coloured(colour)


def lathed(outline, colour, sides: int = 16) -> Mesh:
    """A part as a lathe makes it: `outline` (n, 2) of z and radius, z rising, carried round z; smooth."""
    line = np.asarray(outline, float)
    angles = np.linspace(0, 2 * np.pi, sides + 1)
    out = np.column_stack([np.cos(angles), np.sin(angles), np.zeros(sides + 1)])
    z = np.array([0.0, 0.0, 1.0])
    slope = np.gradient(line, axis=0)
    slope /= np.linalg.norm(slope, axis=1, keepdims=True)
    points = np.vstack([radius * out + height * z for height, radius in line])
    normals = np.vstack([along_z * out - outward * z for along_z, outward in slope])
    row = sides + 1
    i, j = np.meshgrid(np.arange(len(line) - 1), np.arange(sides), indexing="ij")
    a, b = i * row + j, i * row + j + 1
    triangles = np.concatenate([np.stack([a, b, b + row], -1), np.stack([a, b + row, a + row], -1)]).reshape(-1, 3)
    return Mesh(points, normals, np.tile(np.asarray(colour, float), (len(points), 1)), triangles)
