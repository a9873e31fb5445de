"""A battery and a knife switch: the source of the current and what switches it; and a wire's end, which shows its direction."""

from __future__ import annotations

import numpy as np

from visual import palette
from visual.apparatus.wiring import Inside, Terminal, cord
from visual.solid.mesh import block, joined, rod
from visual.solid.solids import Group, Letters, Solid
from visual.solid.told import Point, Told, point

__all__ = ["Battery", "KnifeSwitch", "WireEnd", "cord"]

POSITIVE, NEGATIVE = "+", "\N{MINUS SIGN}"
END_HIGH = 0.0015  # m, the disc
MARK_HIGH = 0.0008  # m, how far dot and cross stand out


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


class WireEnd(Group):
    """A disc of `radius` metres at `pos`, facing upward: a dot for a current upward, a cross for one downward, its letter beside it."""

    def __init__(self, pos, radius: float):
        super().__init__()
        self.pos: Point = point(pos)
        top = [0, END_HIGH, 0], [0, END_HIGH + MARK_HIGH, 0]
        self.disc = self.add(Solid(rod([0, 0, 0], [0, END_HIGH, 0], radius, palette.PAPER, 24)))
        self.dot = self.add(Solid(rod(*top, 0.38 * radius, palette.INK, 16)))
        self.cross = self.add(Solid(joined(*[_bar(radius, top[1][1], way) for way in (1, -1)])))
        for part in (self.disc, self.dot, self.cross):
            part.put(pos)
        self.letter = self.add(Letters("I", palette.PAPER, 22, ground=palette.CURRENT))
        self.letter.put(np.asarray(pos) + [-1.9 * radius, 0, 0])
        self.upward = 0

    def carry(self, current: float) -> None:
        """Show a current of that sign, positive upward."""
        self.upward = int(np.sign(current))
        self.dot.visible, self.cross.visible = self.visible and current > 0, self.visible and current < 0
        self.letter.visible = self.visible and current != 0

    def tell(self, found: Told) -> None:
        if self.upward:
            found.marks.append(
                ("dot on the wire's upper end" if self.dot.visible else "cross on the wire's upper end", self.pos, self.upward)
            )


def _bar(radius: float, top: float, way: int):
    c, s = np.sqrt(0.5), way * np.sqrt(0.5)
    return block([0, top - 0.5 * MARK_HIGH, 0], [1.5 * radius, MARK_HIGH, 0.3 * radius], palette.INK).turned(
        [[c, 0, s], [0, 1, 0], [-s, 0, c]]
    )
