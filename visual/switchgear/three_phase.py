"""A motor's terminal box on three lines: U, V, W and the protective conductor, leads from L1, L2, L3, as they are joined.

Where the motor is fed through an inverter, that stands in place of the lines, with outputs U, V, W, and the lines go to it.

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
SUPPLY, MOTOR, INVERTER, MAINS = "supply", "motor", "inverter", "mains"
DEEP, BELOW = 0.032, 0.022  # m from an inverter's outputs down to its inputs, and from there to the supply's terminals


class MotorOnLines(Group):
    """Terminals of the motor from `box` on, (3,), to the right, those of what feeds it from `rail` on; the leads between them go
    above both. What feeds it is the supply, or an inverter that the supply feeds from below."""

    def __init__(self, box, rail):
        super().__init__()
        self.motor = {name: Terminal(MOTOR, name, _place(box, k)) for k, name in enumerate((*TERMINALS, EARTH))}
        self.supply = {name: Terminal(SUPPLY, name, _place(rail, k)) for k, name in enumerate((*LINES, EARTH))}
        self.rail_letters = self._boards()
        self.leads = {
            (line, end): Lead(
                self, self.supply[line], self.motor[end], _between(self.supply[line].at, self.motor[end].at, k), 0.0028, COLOURS[line]
            )
            for k, line in enumerate(LINES)
            for end in TERMINALS
        }
        self.earth = Lead(
            self, self.supply[EARTH], self.motor[EARTH], _between(self.supply[EARTH].at, self.motor[EARTH].at, 3), 0.0028, GREEN
        )
        self._stripes(self.earth)
        self.inverter = self.add(InverterBelow(self.supply))
        ends = [self.motor[end] for end in TERMINALS], [self.supply[line] for line in LINES]
        for k in range(3):
            Inside(self, "windings", ends[0][k], ends[0][(k + 1) % 3])
            Inside(self, MAINS, ends[1][k], ends[1][(k + 1) % 3], lambda: not self.inverter.visible)
        Inside(self, "frame", self.motor[EARTH], "frame")
        Inside(self, "earth", self.supply[EARTH], "earth", lambda: not self.inverter.visible)
        self.join(LINES)

    def join(self, lines, through_inverter: bool = False) -> None:
        """Join these lines, in this order, to U, V, W; or, through an inverter, the outputs that stand in their place."""
        for (line, end), lead in self.leads.items():
            lead.visible = self.visible and lines[TERMINALS.index(end)] == line
        self.inverter.visible = self.visible and through_inverter
        for place, marking in zip(LINES, TERMINALS if through_inverter else LINES, strict=True):
            self.supply[place].marking = self.rail_letters[place].text = marking
        for terminal in self.supply.values():
            terminal.thing = INVERTER if through_inverter else SUPPLY

    def _boards(self) -> dict[str, Letters]:
        """Both boards with their letters; those of the rail, by its lines."""
        letters = {}
        for terminals in (self.motor, self.supply):
            self.add(Solid(_board([terminal.at for terminal in terminals.values()]))).put((0, 0, 0))
            for name, terminal in terminals.items():
                letters[name] = self.add(Letters(name, palette.PAPER, 15, ground=palette.INK))
                letters[name].put(np.array(terminal.at) - [0, 0.0075, 0])
        return letters

    def _stripes(self, lead: Lead) -> None:
        """Yellow on the straight parts of the green."""
        corners = np.array([lead.first.at, *_between(lead.first.at, lead.second.at, 3), lead.second.at])
        bands = [_bands(start, end) for start, end in zip(corners, corners[1:], strict=False)]
        self.add(Solid(joined(*bands))).put((0, 0, 0))


class InverterBelow(Group):
    """An inverter whose outputs are the terminals of a rail (by name, the last of them PE), and the supply it stands on, below."""

    def __init__(self, outputs: dict[str, Terminal]):
        super().__init__()
        inputs, posts = [], []
        for name, output in outputs.items():
            x, y, z = output.at
            inputs.append(Terminal(INVERTER, name, (x, y - DEEP, z)))
            posts.append(Terminal(SUPPLY, name, (x, y - DEEP - BELOW, z)))
        first, last = np.array(inputs[0].at), np.array(outputs[EARTH].at)
        middle, size = (first + last) / 2 - [0, 0.004, 0.0055], (float(last[0] - first[0]) + STEP, DEEP - 0.011, 0.009)
        self.add(Solid(block(middle, size, palette.IRON))).put((0, 0, 0))
        self.add(Letters("inverter", palette.INK, 15, ground=palette.PAPER)).put(middle + [0, 0, 0.0055])
        for terminals, names in ((inputs, ()), (posts, tuple(outputs))):
            self.add(Solid(_board([terminal.at for terminal in terminals]))).put((0, 0, 0))
            for name, terminal in zip(names, terminals, strict=False):
                self.add(Letters(name, palette.PAPER, 15, ground=palette.INK)).put(np.array(terminal.at) - [0, 0.0075, 0])
        for name, post, inlet, output in zip(outputs, posts, inputs, outputs.values(), strict=True):
            Lead(self, post, inlet, (), 0.0028, COLOURS.get(name, GREEN))
            if name != EARTH:
                Inside(self, f"{INVERTER} {name}-{TERMINALS[LINES.index(name)]}", inlet, output)
        self.add(Solid(_bands(np.array(posts[-1].at), np.array(inputs[-1].at)))).put((0, 0, 0))
        for k in range(3):
            Inside(self, MAINS, posts[k], posts[(k + 1) % 3])
        Inside(self, "earth", posts[-1], "earth")


def _place(start, k: int) -> tuple[float, float, float]:
    x, y, z = start
    return x + k * STEP, y, z


def _between(first, second, k: int) -> np.ndarray:
    """Where a lead goes, each a little before the last, so that leads that cross do not run through each other."""
    (x1, y1, z1), (x2, y2, z2) = first, second
    level = max(y1, y2) + 0.006 + 0.0042 * k
    return np.array([[x1, level, z1 + 0.004 * k], [x2, level, z2 + 0.004 * k]])


def _bands(start: np.ndarray, end: np.ndarray):
    """Yellow round a straight piece of green lead."""
    along = end - start
    return joined(*[rod(start + share * along, start + (share + 0.04) * along, 0.0016, YELLOW, 6) for share in np.arange(0.26, 0.74, 0.08)])


def _board(places):
    """A strip with a stud right through it for each terminal."""
    first, last = np.array(places[0]), np.array(places[-1])
    middle, width = (first + last) / 2, float(last[0] - first[0]) + STEP
    studs = [rod(np.array(at) - [0, 0, 0.013], np.array(at) + [0, 0, 0.002], 0.003, palette.BRASS, 10) for at in places]
    return joined(block(middle - [0, 0.0045, 0.0055], [width, 0.019, 0.01], palette.SLATE), *studs)
