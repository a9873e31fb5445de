"""A battery and a knife switch with their leads: where the current comes from and what turns it on."""

from __future__ import annotations

import numpy as np

from visual import palette
from visual.solid.mesh import block, circle, joined, rod, simplified, swept
from visual.solid.solids import Letters, Solid


class Battery:
    """A battery of `size` metres standing at `pos`; `reversed_poles` says which way round it is connected."""

    def __init__(self, group, pos, size: float):
        pos = np.asarray(pos, float)
        self.case = group.add(Solid(joined(
            block([0, 0.3, 0], [1.0, 0.6, 0.5], palette.SLATE),
            block([0, 0.56, 0], [1.02, 0.12, 0.52], palette.BRASS),
            rod([-0.3, 0.6, 0], [-0.3, 0.74, 0], 0.08, palette.STEEL, 10),
            rod([0.3, 0.6, 0], [0.3, 0.74, 0], 0.08, palette.STEEL, 10))))
        self.case.put(pos, None, size)
        self.terminals = pos + size * np.array([[-0.3, 0.74, 0], [0.3, 0.74, 0]])
        self.signs = [group.add(Letters("", palette.INK, 22, ground=palette.PAPER)) for _ in range(2)]
        for letters, terminal in zip(self.signs, self.terminals):
            letters.put(terminal + size * np.array([0, 0.22, 0]))

    def connect(self, sense: float) -> None:
        """`sense` > 0: the right terminal is the positive one, and the current leaves there."""
        self.signs[0].text, self.signs[1].text = ("\N{MINUS SIGN}", "+") if sense >= 0 else ("+", "\N{MINUS SIGN}")


class KnifeSwitch:
    """A switch whose blade one can see, of `size` metres, lying at `pos`; its contacts are at `ends`."""

    def __init__(self, group, pos, size: float):
        self.pos, self.size = np.asarray(pos, float), size
        base = group.add(Solid(joined(
            block([0, 0.05, 0], [1.2, 0.1, 0.4], palette.CORD),
            block([-0.45, 0.16, 0], [0.1, 0.16, 0.16], palette.BRASS),
            block([0.45, 0.16, 0], [0.1, 0.16, 0.16], palette.BRASS))))
        base.put(self.pos, None, size)
        self.blade = group.add(Solid(joined(
            block([0.45, 0, 0], [0.95, 0.05, 0.08], palette.COPPER), rod([0.9, 0, 0], [1.15, 0, 0], 0.06, palette.INK, 8))))
        self.ends = self.pos + size * np.array([[-0.45, 0.24, 0], [0.45, 0.24, 0]])
        self.close(False)

    def close(self, closed: bool) -> None:
        angle = 0.0 if closed else np.radians(50)
        turn = np.array([[np.cos(angle), -np.sin(angle), 0], [np.sin(angle), np.cos(angle), 0], [0, 0, 1.0]])
        self.blade.put(self.pos + self.size * np.array([-0.45, 0.22, 0]), turn, self.size)


class StiffLead:
    """A bent wire from a bar down to a rod's end, led out sideways (+x) and back so as to pass round a pole.

    It leaves the bar, goes `reach` out, comes down, and goes back in to the rod; `length` from the bar to the middle.
    """

    def __init__(self, group, length: float, reach: float, thickness: float = 0.0022):
        self.length, self.reach, self.thickness = length, reach, thickness
        straight = Solid(rod([0, 0, 0], [1, 0, 0], 0.5, palette.CORD, 8))
        self.pieces = [group.add(piece) for piece in (straight, straight.copy(), straight.copy())]

    def put(self, bar, turn, end) -> None:
        """Hang it from `bar`, swung by the 3x3 `turn`; `end` is the rod's end as seen from its middle, at rest."""
        out, down, back = np.array([1.0, 0, 0]), np.array([0, -1.0, 0]), np.array([-1.0, 0, 0])
        top = np.array([0, 0, end[2]])
        fall = self.length - end[1]
        for piece, start, way, long in zip(
            self.pieces, (top, top + self.reach * out, top + self.reach * out + fall * down), (out, down, back), (self.reach, fall, self.reach)
        ):
            sideways = np.array([0, 0, 1.0])
            local = np.column_stack([way, np.cross(sideways, way), sideways])
            piece.put(np.asarray(bar) + turn @ start, turn @ local, (long, self.thickness, self.thickness))


def cord(points, thickness: float, colour=palette.CORD, smooth: int = 6):
    """A lead through `points` (n, 3), its corners rounded, as a mesh."""
    line = np.asarray(points, float)
    for _ in range(2):  # cut the corners off, twice
        cut = np.empty((2 * len(line) - 2, 3))
        cut[0::2], cut[1::2] = 0.78 * line[:-1] + 0.22 * line[1:], 0.22 * line[:-1] + 0.78 * line[1:]
        line = np.vstack([line[:1], cut, line[-1:]])
    line = simplified(line, thickness / 30)
    tangents = np.gradient(line, axis=0)
    sideways = np.eye(3)[np.argmin(np.max(np.abs(tangents) / np.linalg.norm(tangents, axis=1, keepdims=True), axis=0))]
    return swept(circle(thickness / 2, smooth), line, sideways, colour)
