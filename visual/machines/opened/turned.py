"""Parts as they come from the lathe, with sharp edges; and shadows on the ground."""

from __future__ import annotations

import numpy as np

from visual.solid.mesh import Mesh

SIDES = 40


def turned_part(outline, colour, sides: int = SIDES) -> Mesh:
    """A closed outline (n, 2) of z and radius carried once round z: smooth round the shaft, its edges sharp. Its corners may go
    round either way."""
    line = np.asarray(outline, float)
    after = np.roll(line, -1, axis=0)
    if np.sum(line[:, 0] * after[:, 1] - after[:, 0] * line[:, 1]) < 0:
        return turned_part(line[::-1], colour, sides)
    edges = [(a, b) for a, b in zip(line, after, strict=True) if max(a[1], b[1]) > 1e-9 and np.any(a != b)]
    angle = np.linspace(0, 2 * np.pi, sides + 1)
    out = np.column_stack([np.cos(angle), np.sin(angle), np.zeros(sides + 1)])
    z = np.array([0.0, 0.0, 1.0])
    points, normals, triangles = [], [], []
    here = np.arange(sides)
    for number, (a, b) in enumerate(edges):
        along, outward = (b - a) / np.linalg.norm(b - a)
        points += [a[1] * out + a[0] * z, b[1] * out + b[0] * z]
        normals += [outward * z - along * out] * 2
        first = 2 * number * (sides + 1) + here
        second = first + sides + 1
        triangles += [np.column_stack([first, second, second + 1]), np.column_stack([first, second + 1, first + 1])]
    corners = np.vstack(points)
    faces = np.vstack(triangles)
    p, q, r = (corners[faces[:, k]] for k in range(3))
    real = np.linalg.norm(np.cross(q - p, r - p), axis=1) > 1e-14  # where the outline meets the shaft, half of them are points
    return Mesh(corners, np.vstack(normals), np.tile(np.asarray(colour, float), (len(corners), 1)), faces[real])


def tube(inner: float, outer: float, start: float, end: float, colour, sides: int = SIDES) -> Mesh:
    """A ring round z from radius `inner` to `outer`, from z `start` to `end`."""
    return turned_part([(start, inner), (end, inner), (end, outer), (start, outer)], colour, sides)


def ball(middle, radius: float, colour, around: int = 8) -> Mesh:
    """A ball, with as many sides `around` and half as many rows."""
    turn = np.linspace(-np.pi / 2, np.pi / 2, around // 2 + 1)
    shape = turned_part(np.column_stack([radius * np.sin(turn), np.abs(radius * np.cos(turn)).round(9)]), colour, around)
    return Mesh(shape.points + np.asarray(middle, float), shape.points / radius, shape.colours, shape.triangles)


def shadow(ground, dark, around: int = 28) -> Mesh:
    """A shadow of radius 1 on a flat ground of that colour, seen from above: as `dark` as that colour in the middle."""
    rings = np.array([0.0, 0.45, 0.75, 1.0])
    share = np.array([1.0, 0.85, 0.3, 0.0])
    angle = 2 * np.pi * np.arange(around) / around
    points = np.array([[r * np.cos(a), 0.0, -r * np.sin(a)] for r in rings for a in angle])
    shades = np.repeat(share, around)[:, None]
    colours = shades * np.asarray(dark, float) + (1 - shades) * np.asarray(ground, float)
    i, j = (part.ravel() for part in np.meshgrid(np.arange(len(rings) - 1), np.arange(around), indexing="ij"))
    a, b = i * around + j, i * around + (j + 1) % around
    triangles = np.vstack([np.column_stack([a, a + around, b + around]), np.column_stack([a, b + around, b])])
    return Mesh(points, np.tile([0.0, 1.0, 0.0], (len(points), 1)), colours, triangles)
