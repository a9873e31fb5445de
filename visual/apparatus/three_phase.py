"""A motor's terminal box on three lines: U, V, W and the protective conductor, leads from L1, L2, L3, as they are joined.

Markings after IEC 60034-8 (U, V, W of a motor with three terminals) and IEC 60445 (L1, L2, L3, PE; conductors brown, black,
grey, and green-and-yellow for PE, which is used for nothing else).
"""

from __future__ import annotations

import numpy as np

from visual import palette
from visual.apparatus.wiring import Inside, Lead, Terminal
from visual.solid.mesh import block, joined, rod
from visual.solid.solids import Group, Letters, Solid

LINES, TERMINALS, EARTH = ("L1", "L2", "L3"), ("U", "V", "W"), "PE"
COLOURS = {"L1": palette.rgb("#7a4a24"), "L2": palette.rgb("#23282b"), "L3": palette.rgb("#8d949a")}
GREEN, YELLOW = palette.rgb("#3f8f3a"), palette.rgb("#e6c81e")
STEP = 0.017  # m between terminals
SUPPLY, MOTOR = "supply", "motor"


class MotorOnLines(Group):
    """Terminals of the motor from `box` on, (3,), to the right, those of the supply from `rail` on; the leads between them go
    above both."""

    def __init__(self, box, rail):
        super().__init__()
        self.motor = {name: Terminal(MOTOR, name, _place(box, k)) for k, name in enumerate((*TERMINALS, EARTH))}
        self.supply = {name: Terminal(SUPPLY, name, _place(rail, k)) for k, name in enumerate((*LINES, EARTH))}
        for terminals in (self.motor, self.supply):
            self.add(Solid(_board([terminal.at for terminal in terminals.values()]))).put((0, 0, 0))
            for name, terminal in terminals.items():
                self.add(Letters(name, palette.PAPER, 15, ground=palette.INK)).put(np.array(terminal.at) - [0, 0.0075, 0])
        self.leads = {
            (line, end): Lead(self, self.supply[line], self.motor[end], _between(self.supply[line].at, self.motor[end].at, k), 0.0028, COLOURS[line])
            for k, line in enumerate(LINES) for end in TERMINALS
        }
        self.earth = Lead(self, self.supply[EARTH], self.motor[EARTH], _between(self.supply[EARTH].at, self.motor[EARTH].at, 3), 0.0028, GREEN)
        self._stripes(self.earth)
        for thing, three in (("windings", [self.motor[end] for end in TERMINALS]), ("mains", [self.supply[line] for line in LINES])):
            for k in range(3):
                Inside(self, thing, three[k], three[(k + 1) % 3])
        Inside(self, "frame", self.motor[EARTH], "frame")
        Inside(self, "earth", self.supply[EARTH], "earth")
        self.join(LINES)

    def join(self, lines) -> None:
        """Join these lines, in this order, to U, V, W."""
        for (line, end), lead in self.leads.items():
            lead.visible = self.visible and lines[TERMINALS.index(end)] == line

    def _stripes(self, lead: Lead) -> None:
        """Yellow on the straight parts of the green."""
        corners = np.array([lead.first.at, *_between(lead.first.at, lead.second.at, 3), lead.second.at])
        bands = [
            rod(start + from_there * (end - start), start + (from_there + 0.04) * (end - start), 0.0016, YELLOW, 6)
            for start, end in zip(corners, corners[1:], strict=False) for from_there in np.arange(0.26, 0.74, 0.08)
        ]
        self.add(Solid(joined(*bands))).put((0, 0, 0))


def _place(start, k: int) -> tuple[float, float, float]:
    x, y, z = start
    return x + k * STEP, y, z


def _between(first, second, k: int) -> np.ndarray:
    """Where a lead goes, each a little before the last, so that leads that cross do not run through each other."""
    (x1, y1, z1), (x2, y2, z2) = first, second
    level = max(y1, y2) + 0.006 + 0.0042 * k
    return np.array([[x1, level, z1 + 0.004 * k], [x2, level, z2 + 0.004 * k]])


def _board(places):
    """A strip with a stud right through it for each terminal."""
    first, last = np.array(places[0]), np.array(places[-1])
    middle, width = (first + last) / 2, float(last[0] - first[0]) + STEP
    studs = [rod(np.array(at) - [0, 0, 0.013], np.array(at) + [0, 0, 0.002], 0.003, palette.BRASS, 10) for at in places]
    return joined(block(middle - [0, 0.0045, 0.0055], [width, 0.019, 0.01], palette.SLATE), *studs)
