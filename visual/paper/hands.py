"""The hand of a hand rule on paper: the bench's own hand as a line drawing, seen as obliquely as the box in `paper_setups`."""

from __future__ import annotations

from collections import defaultdict
from functools import lru_cache

import numpy as np

from visual.hand.hands import Hand, fleming_hand, fleming_rotation
from visual.paper.paper import Drawing
from visual.paper.paper_setups import oblique
from visual.solid.mesh import Mesh

SIGHT = np.array([0.55, 0.42, 1.0])  # toward the eye: what lies along it falls on one place of `oblique`
SIZE = 21.0  # mm, a hand's length
BEYOND = 4.2  # mm from a fingertip to its letter
ASIDE = (0, 15, -15, 30, -30, 45, -45, 60, -60, 75, -75, 90, -90)  # degrees off the finger's own line, where another tip is near
MUCH_NEARER, CLEAR = 0.6, 2.0  # of the way to another tip; mm from a letter's middle to what it must not lie on
EDGE, OUTLINE = 2.0, 0.25  # mm round the hand and its letters; the width of a line
PIECE, BEHIND = 0.8, 0.15  # mm, the longest piece of a line that is seen or hidden as one; what is nearer hides it
WHITE = (1.0, 1.0, 1.0)


def fleming(side: str, thumb, first, second, letters: tuple[str, str, str], words: str) -> Drawing:
    """A left or right hand with thumb, first and second finger along three directions (x, y, z) at right angles, and a letter
    beyond each of their tips."""
    turn = fleming_rotation(side, thumb, first, second)
    hand, edges = _hand(side)
    mesh = hand.mesh.turned(turn)
    tips = [oblique(turn @ tip) * SIZE for tip in hand.tips]
    along = [oblique(turn @ pointing) for pointing in hand.pointing]
    flat = oblique(mesh.points.T).T * SIZE
    named = _beyond(np.array(tips), np.array(along), flat)
    taken = np.vstack([flat, *([place - EDGE, place + EDGE] for place in named)])
    low, high = taken.min(axis=0), taken.max(axis=0)
    middle, (width, height) = (low + high) / 2, high - low + 2 * EDGE
    drawing = Drawing(width, height, words)
    _lines(drawing, mesh, edges, flat - middle)
    for letter, place in zip(letters, named, strict=True):
        drawing.letters(place - middle, letter)
    return drawing


def _beyond(tips: np.ndarray, along: np.ndarray, hand: np.ndarray) -> list[np.ndarray]:
    """A place for each letter (x, y): beyond its fingertip, along the finger as nearly as may be, but much nearer to that tip than to any
    other, and where it can be, off the hand and off the letters before it."""
    named: list[np.ndarray] = []
    for tip, way in zip(tips, along, strict=True):
        others = [other for other in tips if other is not tip and np.any(other != tip)]

        def unfit(place: np.ndarray, aside: float, tip=tip, others=others) -> float:
            own = np.linalg.norm(place - tip)
            mistaken = max(own / np.linalg.norm(place - other) for other in others) > MUCH_NEARER
            over = float(np.min(np.linalg.norm(hand - place, axis=1)) < CLEAR) + any(np.linalg.norm(place - at) < 2 * CLEAR for at in named)
            return 10.0 * mistaken + over + abs(aside) / 90 + (BEYOND - own) / 10

        found = {}
        for aside in ASIDE:
            turn = np.radians(aside) + np.arctan2(way[1], way[0])
            for distance in (BEYOND, BEYOND - 1.0, BEYOND - 1.6):
                place = tip + distance * np.array([np.cos(turn), np.sin(turn)])
                found[unfit(place, aside)] = place
        named.append(found[min(found)])
    return named


@lru_cache(2)
def _hand(side: str) -> tuple[Hand, np.ndarray]:
    """The hand, and the edges of its mesh, (n, 4): the two points and the two faces of each."""
    hand = fleming_hand(side, WHITE, WHITE, WHITE)
    _, same = np.unique(np.round(hand.mesh.points, 9), axis=0, return_inverse=True)
    same = same.reshape(-1)
    found: dict[frozenset[int], list[int]] = {}
    for face, (first, second, third) in enumerate(hand.mesh.triangles):
        for start, end in ((first, second), (second, third), (third, first)):
            found.setdefault(frozenset((int(same[start]), int(same[end]))), [int(start), int(end)]).append(face)
    return hand, np.array([edge[:4] for edge in found.values() if len(edge) >= 4])


def _lines(drawing: Drawing, mesh: Mesh, edges: np.ndarray, flat: np.ndarray) -> None:
    """A line where the shape turns away from the eye, as far as nothing of it is in front."""
    corners = mesh.points[mesh.triangles]
    toward = np.cross(corners[:, 1] - corners[:, 0], corners[:, 2] - corners[:, 0]) @ SIGHT > 1e-12
    places = np.column_stack([flat, mesh.points[:, 2] * SIZE])  # what has more of the third is nearer to the eye
    outline = edges[toward[edges[:, 2]] != toward[edges[:, 3]], :2]
    pieces = _cut(places[outline])
    for line in _joined(pieces[_seen(pieces.mean(axis=1), places[mesh.triangles[toward]])]):
        drawing.line(*line, width=OUTLINE)


def _cut(edges: np.ndarray) -> np.ndarray:
    """Edges (n, 2, 3) cut into pieces of at most PIECE mm."""
    lengths = np.hypot(*(edges[:, 1, :2] - edges[:, 0, :2]).T)
    pieces = []
    for (start, end), length in zip(edges, lengths, strict=True):
        places = np.linspace(start, end, max(1, int(np.ceil(length / PIECE))) + 1)
        pieces.append(np.stack([places[:-1], places[1:]], axis=1))
    return np.concatenate(pieces)


def _seen(places: np.ndarray, faces: np.ndarray) -> np.ndarray:
    """Which of the places (n, 3) none of the faces (m, 3, 3) lies in front of."""
    first, second, third = (faces[:, corner] for corner in range(3))
    along, across = second - first, third - first
    twice = along[:, 0] * across[:, 1] - along[:, 1] * across[:, 0]  # the face's area as it is seen
    away = places[:, np.newaxis] - first
    with np.errstate(divide="ignore", invalid="ignore"):
        one = (away[..., 0] * across[:, 1] - away[..., 1] * across[:, 0]) / twice
        two = (away[..., 1] * along[:, 0] - away[..., 0] * along[:, 1]) / twice
    inside = (one > 0) & (two > 0) & (one + two < 1)
    nearer = one * along[:, 2] + two * across[:, 2] - away[..., 2] > BEHIND
    return ~(inside & nearer).any(axis=1)


def _joined(pieces: np.ndarray) -> list[list[np.ndarray]]:
    """Pieces that meet as lines, each a list of places (x, y)."""
    ends = np.round(pieces[:, :, :2], 2)
    at: dict[tuple, list[int]] = defaultdict(list)
    for number, piece in enumerate(ends):
        for end in piece:
            at[tuple(end)].append(number)
    left = set(range(len(pieces)))
    lines = []
    while left:
        begun = next((number for number in sorted(left) for end in ends[number] if len(left.intersection(at[tuple(end)])) == 1), min(left))
        left.discard(begun)
        first, last = (tuple(end) for end in ends[begun])
        if left.intersection(at[first]) and not left.intersection(at[last]):
            first, last = last, first
        line = [first, last]
        while following := sorted(left.intersection(at[line[-1]])):
            left.discard(following[0])
            one, other = (tuple(end) for end in ends[following[0]])
            line.append(other if one == line[-1] else one)
        lines.append([np.array(place) for place in line])
    return lines
