"""A battery and a knife switch: the source of the current and what switches it."""

from __future__ import annotations

import numpy as np

from visual import palette
from visual.apparatus.wiring import Inside, Terminal, cord
from visual.solid.mesh import block, joined, rod
from visual.solid.solids import Letters, Solid

__all__ = ["Battery", "KnifeSwitch", "cord"]

POSITIVE, NEGATIVE = "+", "\N{MINUS SIGN}"


class Battery:
    """A battery of `size` metres standing at `pos`, its terminals on a line `along` the bench, which is level.

    `left` and `right` are where leads end; which of them is the positive one says how the battery is turned.
    """

    def __init__(self, group, pos, size: float, thing: str = "battery", along=(1.0, 0.0, 0.0)):
        pos, turn = np.asarray(pos, float), _standing(along)
        self.case = group.add(
            Solid(
                joined(
                    block([0, 0.3, 0], [1.0, 0.6, 0.5], palette.SLATE),
                    block([0, 0.56, 0], [1.02, 0.12, 0.52], palette.BRASS),
                    rod([-0.3, 0.6, 0], [-0.3, 0.74, 0], 0.08, palette.STEEL, 10),
                    rod([0.3, 0.6, 0], [0.3, 0.74, 0], 0.08, palette.STEEL, 10),
                )
            )
        )
        self.case.put(pos, turn, size)
        self.terminals = pos + size * np.array([[-0.3, 0.74, 0], [0.3, 0.74, 0]]) @ turn.T
        self.left, self.right = (Terminal(thing, "", tuple(at)) for at in self.terminals.tolist())
        self.signs = [group.add(Letters("", palette.INK, 22, ground=palette.PAPER)) for _ in range(2)]
        for letters, terminal in zip(self.signs, self.terminals, strict=True):
            letters.put(terminal + size * np.array([0, 0.22, 0]))
        Inside(group, thing, self.left, self.right)
        self.connect(1.0)

    def connect(self, sense: float) -> None:
        """Turn it so that for `sense` > 0 the right terminal is the positive one, and the current leaves there."""
        markings = (NEGATIVE, POSITIVE) if sense >= 0 else (POSITIVE, NEGATIVE)
        for letters, terminal, marking in zip(self.signs, (self.left, self.right), markings, strict=True):
            letters.text = terminal.marking = marking


class KnifeSwitch:
    """A switch with a visible blade, of `size` metres, lying at `pos`, its contacts on a line `along` the bench.

    `hinge` and `jaw` are where leads end; it conducts while the blade lies in the jaw.
    """

    def __init__(self, group, pos, size: float, thing: str = "switch", along=(1.0, 0.0, 0.0)):
        self.pos, self.size, self.turn = np.asarray(pos, float), size, _standing(along)
        base = group.add(
            Solid(
                joined(
                    block([0, 0.05, 0], [1.2, 0.1, 0.4], palette.CORD),
                    block([-0.45, 0.16, 0], [0.1, 0.16, 0.16], palette.BRASS),
                    block([0.45, 0.16, 0], [0.1, 0.16, 0.16], palette.BRASS),
                )
            )
        )
        base.put(self.pos, self.turn, size)
        self.blade = group.add(
            Solid(joined(block([0.45, 0, 0], [0.95, 0.05, 0.08], palette.COPPER), rod([0.9, 0, 0], [1.15, 0, 0], 0.06, palette.INK, 8)))
        )
        self.ends = self.pos + size * np.array([[-0.45, 0.24, 0], [0.45, 0.24, 0]]) @ self.turn.T
        self.hinge, self.jaw = (
            Terminal(thing, marking, tuple(at)) for marking, at in zip(("hinge", "jaw"), self.ends.tolist(), strict=True)
        )
        self.close(False)
        Inside(group, thing, self.hinge, self.jaw, lambda: self.closed)

    def close(self, closed: bool) -> None:
        self.closed = bool(closed)
        angle = 0.0 if closed else np.radians(50)
        lift = np.array([[np.cos(angle), -np.sin(angle), 0], [np.sin(angle), np.cos(angle), 0], [0, 0, 1.0]])
        self.blade.put(self.pos + self.size * (self.turn @ [-0.45, 0.22, 0]), self.turn @ lift, self.size)


def _standing(along) -> np.ndarray:
    """The 3x3 turn about the upright axis that carries +x to `along`, (3,), level."""
    x, up = np.asarray(along, float) / np.linalg.norm(along), np.array([0.0, 1.0, 0.0])
    return np.column_stack([x, up, np.cross(x, up)])
