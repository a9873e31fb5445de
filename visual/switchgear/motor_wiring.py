"""The wiring of a three-phase motor: the supply's three lines, the box in between, and the six studs of the terminal board.

All of it stands upright beside the machine in the plane z = 0, its studs right through the board, so that it is read from
either end. The studs stand in two rows, as on a terminal board, the upper one half a pitch aside so that its leads pass
between the lower ones. Leads go upward: from the posts L1, L2, L3 into a box (fuses, an inverter, a pole-changing switch) and from the
box to the board. What conducts inside is told with the leads (`wiring.Inside`).
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import partial

import numpy as np

from visual import palette
from visual.apparatus.wiring import Inside, Joint, Lead, Terminal, cord
from visual.solid.mesh import block, joined, rod
from visual.solid.solids import Group, Letters, Solid

LINES = ("L1", "L2", "L3")
PITCH = 0.034  # m between studs of a row
COLUMNS = 0.140 + PITCH * np.arange(3)  # m, where the studs of the lower row stand across; those of the upper one half a pitch further
ACROSS = np.concatenate([COLUMNS, COLUMNS + PITCH / 2])
LOWER, UPPER = 0.030, 0.064  # m, heights of the two rows
BOX_TOP, BOX_BOTTOM, POSTS = -0.002, -0.040, -0.068  # m, heights
WHITE = (1.0, 1.0, 1.0)
THICK = 0.004  # m, of a lead


@dataclass(frozen=True)
class Joined:
    """The present state of the wiring.

    lines: for each of the first three places of the box, below, which line (0 to 2) is led to it; studs: for each of the
    first three places above, to which of the first three studs its lead goes; bars: (place below, place above) that the box
    joins; bridged: places above that the box joins with one another.
    """

    lines: tuple[int, ...] = (0, 1, 2)
    studs: tuple[int, ...] = (0, 1, 2)
    bars: tuple[tuple[int, int], ...] = ((0, 0), (1, 1), (2, 2))
    bridged: tuple[int, ...] = ()


class MotorWiring(Group):
    """The wiring of one motor.

    studs: the markings of the terminal board, the lower row, then the upper one, from left to right looking at the drive end;
    linked: numbers of studs that a link joins; windings: (marking, marking or "star point") of each winding or part of one
    inside the motor; box: what it is called; inputs, outputs: markings of its places below (three) and above (three or six);
    words: written on it.
    """

    def __init__(self, studs, windings, box: str, inputs, outputs, linked=(), words: str = ""):
        super().__init__()
        self.joined = Joined()
        heights = (LOWER,) * 3 + (UPPER,) * 3
        self.studs = [Terminal("motor", marking, (x, y, 0.0)) for marking, x, y in zip(studs, ACROSS, heights, strict=True)]
        self.posts = [Terminal("supply", line, (x, POSTS, 0.0)) for line, x in zip(LINES, COLUMNS, strict=True)]
        self.inputs = [Terminal(box, marking, (x, BOX_BOTTOM, 0.0)) for marking, x in zip(inputs, COLUMNS, strict=True)]
        self.outputs = [Terminal(box, marking, (x, BOX_TOP, 0.0)) for marking, x in zip(outputs, ACROSS, strict=False)]
        self.add(Solid(_board())).put((0, 0, 0))
        for terminals, beside in ((self.studs, 0.016), (self.posts, -0.015)):
            for terminal in terminals:
                letters = self.add(Letters(terminal.marking, palette.INK, 17, ground=palette.PAPER))
                letters.put(np.add(terminal.at, (0, beside, 0)))
        self.links = [Link(self, self.studs[a], self.studs[b]) for a, b in zip(linked, linked[1:], strict=False)]
        self.below = {(line, place): self._lead(self.posts[line], self.inputs[place], line) for line in range(3) for place in range(3)}
        self.above = {
            (place, stud): self._lead(self.outputs[place], self.studs[stud], place)
            for place in range(len(self.outputs))
            for stud in range(6)
            if place == stud or max(place, stud) < 3
        }
        self._build_box(box, words)
        for first, second in windings:
            Inside(self, f"winding {first}-{second}", f"motor {first}", f"motor {second}")
        for k in range(2):
            Inside(self, "supply", self.posts[k], self.posts[k + 1])

    def _lead(self, first: Terminal, second: Terminal, layer: int) -> Lead:
        """A lead that, where it goes across, passes the others in front or behind."""
        (x, low, _), (across, high, _) = first.at, second.at
        z = 0.0 if x == across else 0.008 * (layer % 3 - 1) + 0.004
        via = [] if x == across else [(x, low + 0.1 * (high - low), z), (across, high - 0.1 * (high - low), z)]
        return Lead(self, first, second, via, THICK, WHITE)

    def _build_box(self, box: str, words: str) -> None:
        width = ACROSS[len(self.outputs) - 1] - COLUMNS[0]
        middle = [COLUMNS[0] + width / 2, (BOX_TOP + BOX_BOTTOM) / 2, 0]
        self.add(Solid(block(middle, [width + 0.02, BOX_TOP - BOX_BOTTOM, 0.012], palette.SLATE))).put((0, 0, 0))
        if words:
            self.add(Letters(words, palette.PAPER, 15, ground=palette.SLATE)).put(middle)

    def put(self, now: Joined, colours) -> None:
        """Show the present connections, in the colours of L1, L2, L3."""
        self.joined = now
        for (line, place), lead in self.below.items():
            lead.visible = self.visible and now.lines[place] == line
            lead.colour(colours[line])
        reached = self._lines_reaching()
        for (place, stud), lead in self.above.items():
            lead.visible = self.visible and stud == (now.studs[place] if place < 3 else place)
            lead.colour(colours[reached[place]] if place in reached else palette.CORD)

    def _lines_reaching(self) -> dict[int, int]:
        """By the number of a place above the box: the line that it is joined to."""
        return {above: self.joined.lines[below] for below, above in self.joined.bars}


class Fuses(MotorWiring):
    """A fuse in each line, of which one may have blown."""

    def __init__(self, studs, windings, linked=()):
        markings = [f"of {line}" for line in LINES]
        super().__init__(studs, windings, "fuse", [f"{each}, below" for each in markings], [f"{each}, above" for each in markings], linked)

    def _build_box(self, box: str, words: str) -> None:
        clip = block([0, 0, 0], [0.011, 0.005, 0.011], palette.BRASS)
        clips = [clip.moved((x, y, 0)) for x in COLUMNS for y in (BOX_BOTTOM, BOX_TOP)]
        self.add(Solid(joined(*clips))).put((0, 0, 0))
        self.fuses = [self.add(Solid(rod([x, BOX_BOTTOM, 0], [x, BOX_TOP, 0], 0.0045, palette.PAPER, 12))) for x in COLUMNS]
        for k, fuse in enumerate(self.fuses):
            fuse.put((0, 0, 0))
            Inside(self, f"fuse of {LINES[k]}", self.inputs[k], self.outputs[k], partial(getattr, fuse, "visible"))

    def put(self, now: Joined, colours) -> None:
        """A fuse is there where the box joins its line."""
        super().put(now, colours)
        whole = {below for below, _ in now.bars}
        for k, fuse in enumerate(self.fuses):
            fuse.visible = self.visible and k in whole

    def _lines_reaching(self) -> dict[int, int]:
        return {k: k for k in range(3)}


class InverterBox(MotorWiring):
    """An inverter: its inputs L1, L2, L3 below, its outputs U, V, W above."""

    def __init__(self, studs, windings, linked=()):
        super().__init__(studs, windings, "inverter", LINES, ("U", "V", "W"), linked, "inverter")

    def _build_box(self, box: str, words: str) -> None:
        super()._build_box(box, words)
        for below, above in zip(self.inputs, self.outputs, strict=True):
            Inside(self, f"inverter {below.marking}-{above.marking}", below, above)


class SwitchBox(MotorWiring):
    """A pole-changing switch, its contacts in sight: bars from the lines to the studs that are supplied, one across where it
    joins the others."""

    def __init__(self, studs, windings):
        super().__init__(studs, windings, "switch", LINES, studs)

    def _build_box(self, box: str, words: str) -> None:
        super()._build_box(box, words)
        front = 0.008
        self.bars = {}
        for below in range(3):
            for above in range(6):
                (x, low, _), (across, high, _) = self.inputs[below].at, self.outputs[above].at
                shape = joined(
                    *[
                        cord([(x, low, z), (x, low + 0.010, z), (across, high - 0.016, z), (across, high, z)], 1.3 * THICK, WHITE)
                        for z in (front, -front)
                    ]
                )
                bar = self.bars[below, above] = self.add(Solid(shape))
                bar.put((0, 0, 0))
                self._contact(self.inputs[below], self.outputs[above], bar)
        y = BOX_TOP - 0.008
        self.bridge = []
        for x in COLUMNS[:2]:
            over = [[(x, BOX_TOP, z), (x, y, z), (x + PITCH, y, z), (x + PITCH, BOX_TOP, z)] for z in (1.6 * front, -1.6 * front)]
            self.bridge.append(self.add(Solid(joined(*[cord(line, 1.3 * THICK, palette.BRASS) for line in over]))))
        for k, bridge in enumerate(self.bridge):
            bridge.put((0, 0, 0))
            self._contact(self.outputs[k], self.outputs[k + 1], bridge)

    def _contact(self, first: Terminal, second: Terminal, bar: Solid) -> None:
        Inside(self, f"switch {first.marking}-{second.marking}", first, second, lambda: bar.visible)

    def put(self, now: Joined, colours) -> None:
        super().put(now, colours)
        for (below, above), bar in self.bars.items():
            bar.visible = self.visible and (below, above) in now.bars
            bar.colour(colours[now.lines[below]])
        for k, bridge in enumerate(self.bridge):
            bridge.visible = self.visible and {k, k + 1} <= set(now.bridged)


class Link(Joint):
    """A link laid from stud to stud, seen on both faces of the board."""

    def __init__(self, group, first: Terminal, second: Terminal):
        middle = np.add(first.at, second.at) / 2
        super().__init__(group, first, second, block(middle, [abs(second.at[0] - first.at[0]), 0.005, 0.018], palette.BRASS))


def _board():
    """The board with its studs, the neck by which leads go into the machine, and the posts of the supply."""
    left, right = COLUMNS[0] - 0.016, ACROSS[-1] + 0.014
    top, bottom = UPPER + 0.024, LOWER - 0.012
    thin = 0.5 * THICK  # leads on it are seen on both faces
    places = [(x, y) for row, y in ((COLUMNS, LOWER), (COLUMNS + PITCH / 2, UPPER)) for x in row]
    studs = [rod([x, y, -0.010], [x, y, 0.010], 0.0045, palette.BRASS, 10) for x, y in places]
    posts = [rod([x, POSTS, -0.008], [x, POSTS, 0.008], 0.0048, palette.BRASS, 10) for x in COLUMNS]
    return joined(
        block([(left + right) / 2, (top + bottom) / 2, 0], [right - left, top - bottom, thin], palette.WOOD),
        block([(0.084 + left) / 2, UPPER - 0.004, 0], [left - 0.084, 0.014, 0.010], palette.IRON),
        *studs,
        *posts,
    )
