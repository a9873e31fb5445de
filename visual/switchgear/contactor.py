"""Parts of a starter's panel: contactors with visible contacts, a motor's terminal board, a box, a starting autotransformer.

Panels stand upright and are seen from +z. Poles stand side by side, `PITCH` apart, and are numbered 1, 3, 5 at the top and
2, 4, 6 at the bottom (IEC 60947-4-1).
"""

from __future__ import annotations

from collections.abc import Callable

import numpy as np

from visual import palette
from visual.apparatus.wiring import Inside, Joint, Terminal
from visual.solid.mesh import Mesh, block, joined, rod
from visual.solid.solids import Group, Letters, Solid
from visual.solid.told import Told

PITCH = 0.034  # m between neighbouring poles
POLES = (-PITCH, 0.0, PITCH)
HALF = 0.02  # m from the middle of a contactor to its terminals
FRONT = 0.008  # m from the panel to where a lead ends
OPEN_BY = np.radians(32)  # an open contact leans as in its circuit symbol
TOP, BOTTOM = ("1", "3", "5"), ("2", "4", "6")
BOARD = {"W2": (-1, 1), "U2": (0, 1), "V2": (1, 1), "U1": (-1, -1), "V1": (0, -1), "W1": (1, -1)}  # IEC 60034-8; common practice
LINKS = (("U1", "W2"), ("V1", "U2"), ("W1", "V2"))  # upright, in delta


def contacts(open_by: float) -> Mesh:
    """Three blades, hinged at the lower terminals, leaning to the left by `open_by`, rad."""
    tip = 2 * HALF * np.array([-np.sin(open_by), np.cos(open_by), 0.0])
    return joined(*[rod([x, -HALF, FRONT + 0.004], np.array([x, -HALF, FRONT + 0.004]) + tip, 0.0032, palette.COPPER, 8) for x in POLES])


def contactor_shapes() -> tuple[Solid, Solid, Solid]:
    """Frame, closed contacts and open contacts, hidden, for any number of contactors to copy."""
    studs = [rod([x, y, 0], [x, y, FRONT], 0.0055, palette.BRASS, 8) for x in POLES for y in (-HALF, HALF)]
    frame = joined(block([0, 0, 0.002], [2 * PITCH + 0.026, 2 * HALF + 0.018, 0.004], palette.INK), *studs)
    shapes = Solid(frame), Solid(contacts(0.0)), Solid(contacts(OPEN_BY))
    for shape in shapes:
        shape.visible = False
    return shapes


class Contactor(Group):
    """Three contacts at `pos`, all open or all closed; `thing` is its name as told, `words` what stands beside it."""

    def __init__(self, group, pos, thing: str, words: str, shapes: tuple[Solid, Solid, Solid]):
        super().__init__()
        group.add(self)
        self.thing, self.words, self.closed = thing, words, False
        self.near = False  # whether there is room for more than its name
        pos = np.asarray(pos, float)
        frame, self.made, self.broken = (self.add(shape.copy()) for shape in shapes)
        for part in (frame, self.made, self.broken):
            part.put(pos)
        self.top = [Terminal(thing, number, (pos[0] + x, pos[1] + HALF, pos[2] + FRONT)) for x, number in zip(POLES, TOP, strict=True)]
        self.bottom = [
            Terminal(thing, number, (pos[0] + x, pos[1] - HALF, pos[2] + FRONT)) for x, number in zip(POLES, BOTTOM, strict=True)
        ]
        for first, second in zip(self.top, self.bottom, strict=True):
            Inside(self, thing, first, second, lambda: self.closed)
        self.name = self.add(Letters("", palette.PAPER, 14, ground=palette.SLATE))
        self.name.put(pos + [0, HALF + 0.019, 0.02])
        self.numbers = numbered(self, (*self.top, *self.bottom))
        self.close(False)

    def close(self, closed: bool) -> None:
        self.closed = closed
        self.made.visible, self.broken.visible = self.visible and closed, self.visible and not closed
        self.name.text = f"{self.words}: {'closed' if closed else 'open'}" if self.near else self.words

    def tell(self, found: Told) -> None:
        state = "closed" if self.made.visible else "open"
        found.marks.append((f"{self.thing} {state}", self.top[1].at, 1 if self.made.visible else -1))


def numbered(group, terminals) -> list[Letters]:
    """The markings of `terminals`, small, for when one is near."""
    letters = [group.add(Letters(terminal.marking, palette.PAPER, 12, ground=palette.INK)) for terminal in terminals]
    for each, terminal in zip(letters, terminals, strict=True):
        each.put(np.asarray(terminal.at) + [0.009, 0.0, 0.006])
        each.visible = False
    return letters


class Link(Joint):
    """A bare link from one terminal to another."""

    def __init__(self, group, first: Terminal, second: Terminal, colour=palette.COPPER):
        in_front = np.array([0, 0, 0.002])
        super().__init__(group, first, second, rod(first.at + in_front, second.at + in_front, 0.004, colour, 8))


class TerminalBoard(Group):
    """A motor's six studs, W2 U2 V2 above U1 V1 W1, its three windings behind them, and links that join it in delta."""

    def __init__(self, group, pos, apart: float):
        super().__init__()
        group.add(self)
        pos = np.asarray(pos, float)
        self.terminals = {name: Terminal("motor", name, tuple(pos + [PITCH * x, 0.5 * apart * y, FRONT])) for name, (x, y) in BOARD.items()}
        studs = [
            rod(np.asarray(stud.at) - [0, 0, FRONT], np.asarray(stud.at) + [0, 0, 0.003], 0.006, palette.BRASS, 8)
            for stud in self.terminals.values()
        ]
        self.add(Solid(joined(block(pos + [0.003, 0, 0.001], [2 * PITCH + 0.05, apart + 0.036, 0.004], palette.INK), *studs))).put(
            (0, 0, 0)
        )
        for stud in self.terminals.values():
            self.add(Letters(stud.marking, palette.PAPER, 14, ground=palette.INK)).put(np.asarray(stud.at) + [0.0145, 0, 0.006])
        for phase in "UVW":
            Inside(self, f"winding {phase}", self.terminals[f"{phase}1"], self.terminals[f"{phase}2"])
        self.links = self.add(Group())
        for first, second in LINKS:
            Link(self.links, self.terminals[first], self.terminals[second])


class ThroughBox(Group):
    """A box that three lines go into at the top and come out of at the bottom; `thing` as told, marked `top` and `bottom`."""

    def __init__(self, group, pos, thing: str, words: str, top, bottom, conducts: Callable[[], bool]):
        super().__init__()
        group.add(self)
        pos = np.asarray(pos, float)
        studs = [rod([x, y, 0], [x, y, FRONT], 0.0055, palette.BRASS, 8) for x in POLES for y in (-HALF, HALF)]
        shape = joined(
            block([0, 0, 0.006], [2 * PITCH + 0.026, 2 * HALF - 0.012, 0.012], palette.IRON),
            block([0, 0, 0.002], [2 * PITCH + 0.026, 2 * HALF + 0.018, 0.004], palette.INK),
            *studs,
        )
        self.add(Solid(shape)).put(pos)
        self.top = [Terminal(thing, mark, (pos[0] + x, pos[1] + HALF, pos[2] + FRONT)) for x, mark in zip(POLES, top, strict=True)]
        self.bottom = [Terminal(thing, mark, (pos[0] + x, pos[1] - HALF, pos[2] + FRONT)) for x, mark in zip(POLES, bottom, strict=True)]
        for first, second in zip(self.top, self.bottom, strict=True):
            Inside(self, thing, first, second, conducts)
        self.add(Letters(words, palette.PAPER, 14, ground=palette.SLATE)).put(pos + [0, 0, 0.02])
        self.numbers = numbered(self, (*self.top, *self.bottom))


class StartingTransformer(Group):
    """Three coils, each with an arm that stands on one of its turns: `set_tap` moves them. The leads end on the arms' feet."""

    FOOT = 0.014  # m to the left of each coil

    def __init__(self, group, pos, height: float):
        super().__init__()
        group.add(self)
        self.pos, self.height = np.asarray(pos, float), height
        turns = [
            rod([x - 0.008, y, 0.006], [x + 0.008, y + 0.003, 0.006], 0.0025, palette.COPPER, 6)
            for x in POLES
            for y in np.linspace(0.0, height - 0.003, 7)
        ]
        cores = [block([x, 0.5 * height, 0.002], [0.009, height + 0.006, 0.004], palette.IRON) for x in POLES]
        self.add(Solid(joined(*cores, *turns))).put(self.pos)
        self.arms = self.add(
            Solid(joined(*[rod([x - self.FOOT, 0, FRONT + 0.002], [x, 0, FRONT + 0.002], 0.002, palette.BRASS, 6) for x in POLES]))
        )
        self.posts = self.add(
            Solid(joined(*[block([x - self.FOOT, 0.5, FRONT + 0.002], [0.003, 1.0, 0.003], palette.BRASS) for x in POLES]))
        )

        def ends(marking: str, out: float, y: float) -> list[Terminal]:
            return [Terminal("transformer", f"{marking} {n}", tuple(self.pos + [x + out, y, FRONT])) for n, x in enumerate(POLES, 1)]

        self.top, self.bottom, self.taps = ends("full", 0, height), ends("end", 0, 0.0), ends("tap", -self.FOOT, 0.5 * height)
        for top, tap, bottom in zip(self.top, self.taps, self.bottom, strict=True):
            Inside(self, "transformer coil, upper part", top, tap)
            Inside(self, "transformer coil, lower part", tap, bottom)
        self.mark = self.add(Letters("", palette.PAPER, 14, ground=palette.SLATE))
        self.mark.put(self.pos + [PITCH + 0.036, 0.5 * height, 0.016])

    def set_tap(self, share: float) -> None:
        """Put the arms at that share of the turns, counted from the lower end: the share of the whole voltage."""
        self.mark.text = f"{100 * share:.0f} % tap"
        self.arms.put(self.pos + [0, share * self.height, 0])
        foot = min(share, 0.5) * self.height
        self.posts.put(self.pos + [0, foot, 0], None, (1.0, max(abs(share - 0.5) * self.height, 0.003), 1.0))

    def tell(self, found: Told) -> None:
        found.needles.append(("transformer tap above the lower end of its coil of height 1", self.bottom[0].at, (0.0, self._share(), 0.0)))

    def _share(self) -> float:
        return (self.arms.place[0][1] - self.pos[1]) / self.height
