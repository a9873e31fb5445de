"""The circuit of a single-phase motor on a sheet of paper: main winding, and auxiliary winding behind switch and capacitor.

Symbols after IEC 60617; terminals U1 U2 of the main and Z1 Z2 of the auxiliary winding (IEC 60034-8); L and N of the supply. What
is drawn is told like any wiring, as "diagram U1".
"""

from __future__ import annotations

import numpy as np

from visual import palette
from visual.solid.mesh import Mesh, block, joined, rod
from visual.solid.solids import Group, Letters, Solid
from visual.solid.told import Told
from visual.terminal_box.circuit import WIRE, coil_symbol
from visual.terminal_box.markings import Marking

LIVE, NEUTRAL = 0.078, -0.066  # m above the middle, heights of the rails
MAIN, AUXILIARY = -0.082, -0.018  # m, where the two branches stand across
TOP, FOOT = 0.006, -0.05  # m, heights of a winding's ends
SWITCH, PLATES = (0.066, 0.044), 0.026  # m, heights of the switch's contacts and of the capacitor's middle
GAP, PLATE = 0.0035, 0.011  # m, between the plates, and half of one
POST = -0.116  # m, where the lines come in
LETTERS = 0.0112  # m, height
FIGURES, LINE = (0.068, 0.062), 0.032  # m, the first line of figures, and from one to the next
THICK = 0.0011  # m, of a wire
RUN, START, OPEN = "run", "start", "open"
DOWNWARD = ([0.0, -1.0, 0.0], [1.0, 0.0, 0.0])


class SinglePhaseCircuit(Group):
    """The circuit about `middle`, (3,), on a sheet of `size`."""

    def __init__(self, middle, size):
        super().__init__()
        self.middle = np.asarray(middle, float)
        self.add(Solid(block([0, 0, -0.003], [*size, 0.004], palette.PAPER))).put(self.middle)
        self.add(Solid(_wires())).put(self.middle)
        coil = Solid(coil_symbol(TOP - FOOT))
        self.coils = [self.add(coil), self.add(coil.copy())]
        for part, x in zip(self.coils, (MAIN, AUXILIARY), strict=True):
            part.put_along(self.middle + [x, TOP, 0], *DOWNWARD)
        self.plates = self._part(_plates())
        self.in_place_of_plates = self._part(_upright(PLATES + 0.008, PLATES - 0.008))
        self.contact_made = self._part(_upright(*SWITCH))
        self.contact_open = self._part(_blade())
        self.studs = self._part(joined(*[rod([AUXILIARY, y, 0], [AUXILIARY, y, 0.001], 0.0024, WIRE, 10) for y in SWITCH]))
        self.rails = {"L": Marking(self, "L", LETTERS, palette.INK), "N": Marking(self, "N", LETTERS, palette.INK)}
        for name, y in (("L", LIVE), ("N", NEUTRAL)):
            self.rails[name].put(self.middle + [POST - 0.008, y, 0.001])
        self.ends = {name: Marking(self, name, LETTERS, palette.INK) for name in ("U1", "U2", "Z1", "Z2")}
        self.figures = [self.add(Letters("", palette.INK, 16, ground=palette.PAPER, role="figure")) for _ in range(3)]
        for k, letters in enumerate(self.figures):
            letters.put(self.middle + [FIGURES[0], FIGURES[1] - LINE * k, 0.001])
        self.state = self.add(Letters("", palette.PAPER, 15, ground=palette.SLATE, role="switch"))
        self.state.put(self.middle + [(MAIN + AUXILIARY) / 2, 0.058, 0.001])
        self.branch, self.closed, self.upper = RUN, True, {"U": "U1", "Z": "Z1"}

    def _part(self, shape: Mesh) -> Solid:
        part = self.add(Solid(shape))
        part.put(self.middle)
        return part

    def draw(self, branch: str, closed: bool, reversed_main: bool, reversed_auxiliary: bool, figures) -> None:
        """branch: what stands before the auxiliary: RUN a capacitor, START a switch and a capacitor, OPEN an open contact; closed:
        whether the switch is; reversed: which end of each winding is on L; figures: up to three lines."""
        self.branch, self.closed = branch, closed
        self.upper = {"U": "U2" if reversed_main else "U1", "Z": "Z2" if reversed_auxiliary else "Z1"}
        switched = branch != RUN
        for part, wanted in (
            (self.plates, branch != OPEN),
            (self.in_place_of_plates, branch == OPEN),
            (self.contact_made, not switched or closed),
            (self.contact_open, switched and not closed),
            (self.studs, switched),
        ):
            part.visible = self.visible and wanted
        for letter, x in (("U", MAIN), ("Z", AUXILIARY)):
            for end in "12":
                high = self.upper[letter] == letter + end
                self.ends[letter + end].put(self.middle + [x - 0.0165, TOP + 0.002 if high else FOOT - 0.002, 0.001])
        self.state.text = {RUN: "", START: f"switch {'closed' if closed else 'open'}", OPEN: "open"}[branch]
        self.state.visible = self.visible and bool(self.state.text)
        for k, letters in enumerate(self.figures):
            letters.text = figures[k] if k < len(figures) else ""
            letters.visible = self.visible and bool(letters.text)

    def tell(self, found: Told) -> None:
        lower = {letter: letter + ("2" if up[1] == "1" else "1") for letter, up in self.upper.items()}
        found.leads.append(("diagram L", f"diagram {self.upper['U']}", ""))
        for letter in "UZ":
            found.leads.append((f"diagram {letter}1", f"diagram {letter}2", f"diagram winding {letter}"))
            found.leads.append((f"diagram {lower[letter]}", "diagram N", ""))
        chain = ["diagram L"]
        if self.studs.visible:
            found.leads.append((chain[0], "diagram switch 1", ""))
            if self.contact_made.visible:
                found.leads.append(("diagram switch 1", "diagram switch 2", "diagram switch"))
            chain = ["diagram switch 2"]
        if self.plates.visible:
            found.leads.append((chain[0], "diagram capacitor 1", ""))
            found.leads.append(("diagram capacitor 1", "diagram capacitor 2", "diagram capacitor"))
            chain = ["diagram capacitor 2"]
        found.leads.append((chain[0], f"diagram {self.upper['Z']}", ""))
        found.leads.append(("diagram L", "diagram N", "diagram mains"))


def _upright(top: float, foot: float) -> Mesh:
    return rod([AUXILIARY, top, 0], [AUXILIARY, foot, 0], THICK, WIRE, 6)


def _blade() -> Mesh:
    """An open contact: its blade leans away from the upper one."""
    long = SWITCH[0] - SWITCH[1]
    foot = np.array([AUXILIARY, SWITCH[1], 0])
    return rod(foot, foot + long * np.array([-np.sin(0.55), np.cos(0.55), 0]), THICK, WIRE, 6)


def _plates() -> Mesh:
    """A capacitor: two plates across the wire, and the wire up to them."""
    across = [block([AUXILIARY, PLATES + side * GAP, 0], [2 * PLATE, 0.002, 0.002], palette.INK) for side in (1, -1)]
    return joined(*across, _upright(PLATES + 0.008, PLATES + GAP), _upright(PLATES - GAP, PLATES - 0.008))


def _wires() -> Mesh:
    """What is always there: the rails, and the branches but for windings, capacitor and switch."""
    lines = [((POST, y), (AUXILIARY, y)) for y in (LIVE, NEUTRAL)]
    lines += [((MAIN, LIVE), (MAIN, TOP)), ((MAIN, FOOT), (MAIN, NEUTRAL)), ((AUXILIARY, FOOT), (AUXILIARY, NEUTRAL))]
    lines += [((AUXILIARY, a), (AUXILIARY, b)) for a, b in ((LIVE, SWITCH[0]), (SWITCH[1], PLATES + 0.008), (PLATES - 0.008, TOP))]
    dots = [rod([x, y, -0.0004], [x, y, 0.0012], 0.0022, WIRE, 10) for x, y in ((MAIN, LIVE), (MAIN, NEUTRAL))]
    posts = [rod([POST, y, -0.0004], [POST, y, 0.0014], 0.0028, palette.BRASS, 10) for y in (LIVE, NEUTRAL)]
    return joined(*[rod([*a, 0], [*b, 0], THICK, WIRE, 6) for a, b in lines], *dots, *posts)
