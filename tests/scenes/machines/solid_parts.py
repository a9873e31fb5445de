"""Whether solids run into each other: the tests' own geometry, on the triangles as they are drawn.

A point is inside a closed surface if, all surfaces that a ray from it leaves and enters being counted, more are left than entered.
"""

from __future__ import annotations

import numpy as np

RAY = np.array([0.5773, 0.5391, 0.6129]) / np.linalg.norm([0.5773, 0.5391, 0.6129])  # along no edge of a machine
MOST_POINTS = 90


class SolidPart:
    """A closed mesh, and points `depth` m below its surface."""

    def __init__(self, shape, depth: float, dice):
        a, b, c = (shape.points[shape.triangles[:, k]] for k in range(3))
        across = np.cross(b - a, c - a)
        area = np.linalg.norm(across, axis=1)
        keep = area > 1e-12
        self.a, self.ab, self.ac = a[keep], (b - a)[keep], (c - a)[keep]
        self.low, self.high = shape.points.min(axis=0), shape.points.max(axis=0)
        self.middle, self.outward = (a + b + c)[keep] / 3, across[keep] / area[keep, None]
        self.depth, self.dice = depth, dice

    def just_inside(self, low, high) -> np.ndarray:
        """Points below the surface within a box: some of each triangle's, so many that large ones count too."""
        parts = []
        for u, v in ((1 / 3, 1 / 3), (0.1, 0.1), (0.8, 0.1), (0.1, 0.8)):
            parts.append(self.a + u * self.ab + v * self.ac - self.depth * self.outward)
        points = np.vstack(parts)
        points = points[np.all((points > low) & (points < high), axis=1)]
        if len(points) > MOST_POINTS:
            points = points[self.dice.choice(len(points), MOST_POINTS, replace=False)]
        return points

    def holds(self, points) -> np.ndarray:
        """Which of the points, (n, 3), are inside."""
        if not len(points):
            return np.zeros(0, bool)
        p = np.cross(RAY, self.ac)
        det = np.einsum("ij,ij->i", self.ab, p)
        ok = np.abs(det) > 1e-15
        a, ab, ac, p, det = self.a[ok], self.ab[ok], self.ac[ok], p[ok], det[ok]
        away = points[:, None] - a
        u = np.einsum("nij,ij->ni", away, p) / det
        q = np.cross(away, ab)
        v = q @ RAY / det
        t = np.einsum("nij,ij->ni", q, ac) / det
        hit = (u >= 0) & (v >= 0) & (u + v <= 1) & (t > 0)
        return np.where(hit, -np.sign(det), 0.0).sum(axis=1) > 0.5  # det < 0: the ray leaves


def deepest(one: SolidPart, other: SolidPart, between) -> int:
    """How many points below the surface of one are inside the other, moved by `between` relative to it, either way round."""
    low, high = np.maximum(one.low, other.low + between), np.minimum(one.high, other.high + between)
    if np.any(low >= high):
        return 0
    mine = one.just_inside(low, high)
    its = other.just_inside(low - between, high - between)
    return int(other.holds(mine - between).sum() + one.holds(its + between).sum())
