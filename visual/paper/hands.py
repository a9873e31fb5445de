"""The hand of a hand rule on paper: the bench's own hand as a line drawing, seen as obliquely as the box in `paper_setups`."""

from __future__ import annotations

from collections import defaultdict
from itertools import groupby

import numpy as np

from visual.hand.hands import fleming_hand, fleming_rotation
from visual.paper.paper import Drawing
from visual.paper.paper_setups import oblique
from visual.solid.mesh import Mesh

SIGHT = np.array([0.55, 0.42, 1.0])  # toward the eye: what lies along it falls on one place of `oblique`
SIZE = 21.0  # mm, a hand's length
BEYOND = 4.2  # mm from a fingertip to its letter
EDGE, OUTLINE = 2.0, 0.25  # mm round the hand and its letters; the width of a line
WHITE = (1.0, 1.0, 1.0)


def fleming(side: str, thumb, first, second, letters: tuple[str, str, str], words: str) -> Drawing:
    """A left or right hand with thumb, first and second finger along three directions (x, y, z) at right angles, and a letter
    beyond each of their tips."""
    turn = fleming_rotation(side, thumb, first, second)
    hand = fleming_hand(side, WHITE, WHITE, WHITE)
    mesh = hand.mesh.turned(turn)
    tips = [oblique(turn @ tip) * SIZE for tip in hand.tips]
    along = [oblique(turn @ pointing) for pointing in hand.pointing]
    named = [tip + BEYOND * way / np.linalg.norm(way) for tip, way in zip(tips, along, strict=True)]
    flat = np.array([oblique(place) for place in mesh.points]) * SIZE
    taken = np.vstack([flat, *([place - EDGE, place + EDGE] for place in named)])
    low, high = taken.min(axis=0), taken.max(axis=0)
    middle, (width, height) = (low + high) / 2, high - low + 2 * EDGE
    drawing = Drawing(width, height, words)
    _lines(drawing, mesh, flat - middle)
    for letter, place in zip(letters, named, strict=True):
        drawing.letters(place - middle, letter)
    return drawing


def _lines(drawing: Drawing, mesh: Mesh, flat: np.ndarray) -> None:
    """The faces turned to the eye from the farthest to the nearest, white, and a line where a face ends in one turned away."""
    corners = mesh.points[mesh.triangles]
    toward = np.cross(corners[:, 1] - corners[:, 0], corners[:, 2] - corners[:, 0]) @ SIGHT > 1e-12
    edges = _outlines(mesh, toward)
    parts: list[tuple[bool, np.ndarray]] = []
    for face in np.argsort(corners[:, :, 2].mean(axis=1), kind="stable"):
        if toward[face]:
            parts.append((False, flat[mesh.triangles[face]]))
            parts += [(True, flat[list(edge)]) for edge in edges[int(face)]]
    for is_line, run in groupby(parts, key=lambda part: part[0]):
        if is_line:
            for _, ends in run:
                drawing.line(*ends, width=OUTLINE)
        else:
            drawing.faces([outline for _, outline in run])


def _outlines(mesh: Mesh, toward: np.ndarray) -> dict[int, list[tuple[int, int]]]:
    """Of each face turned to the eye the edges beyond which the shape turns away."""
    _, same = np.unique(np.round(mesh.points, 9), axis=0, return_inverse=True)
    same = same.reshape(-1)
    away = {
        frozenset((int(same[first]), int(same[second])))
        for face in mesh.triangles[~toward]
        for first, second in zip(face, np.roll(face, -1), strict=True)
    }
    found: dict[int, list[tuple[int, int]]] = defaultdict(list)
    for face in np.flatnonzero(toward):
        for first, second in zip(mesh.triangles[face], np.roll(mesh.triangles[face], -1), strict=True):
            if frozenset((int(same[first]), int(same[second]))) in away:
                found[int(face)].append((int(first), int(second)))
    return found
