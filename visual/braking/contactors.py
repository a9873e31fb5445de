"""The main circuit of a motor that is braked, on a sheet of paper: three lines, a contactor for running, one that swaps two lines, one
for direct current; or an inverter in the place of the first. Symbols after IEC 60617; it is told like any wiring.

K1 runs it, K2 has L1 and L2 swapped, K3 puts the direct current of a rectifier on U and V; the overload relay and fuses are left out.
"""

from __future__ import annotations

import numpy as np

from visual import palette
from visual.solid.mesh import Mesh, block, joined, ring, rod
from visual.solid.solids import Group, Letters, Solid
from visual.solid.told import Told
from visual.terminal_box.markings import Marking

LINES, ENDS = ("L1", "L2", "L3"), ("U", "V", "W")
RAILS = {"L1": 0.09, "L2": 0.072, "L3": 0.054}  # m above the middle, heights
BUS = {"U": -0.006, "V": -0.023, "W": -0.04}  # m, of what goes to the motor
POLES = {"K1": (-0.086, -0.071, -0.056), "K2": (-0.022, -0.007, 0.008), "K3": (0.058, 0.073)}  # m across
TOP, FOOT = 0.033, 0.013  # m, heights of the contacts
SOURCE = (0.0655, 0.062)  # m, middle of the rectifier
LEFT, RIGHT = -0.108, 0.008  # m, where the rails begin, and where the last pole is
MOTOR = (-0.03, -0.077)  # m
SHAFTS = (-0.041, -0.03, -0.019)  # m across, of the leads into the motor
SWAPPED = {"L1": "V", "L2": "U", "L3": "W"}
TO_MOTOR = {"K1": dict(zip(LINES, ENDS, strict=True)), "K2": SWAPPED, "K3": {"+": "U", "\N{MINUS SIGN}": "V"}}
THICK, LETTERS = 0.0009, 0.0125  # m
WIRE = palette.INK
LIVE = palette.rgb("#b4443c")


class BrakingCircuit(Group):
    """The circuit about `middle`, (3,), on a sheet of `size`."""

    def __init__(self, middle, size):
        super().__init__()
        self.middle = np.asarray(middle, float)
        self.add(Solid(block([0, 0, -0.003], [*size, 0.004], palette.PAPER))).put(self.middle)
        self.add(Solid(_always())).put(self.middle)
        self.branches = {name: self._part(_branch(name)) for name in POLES}
        self.made = {name: self._part(_contacts(name, 0.0)) for name in POLES}
        self.broken = {name: self._part(_contacts(name, 0.55)) for name in POLES}
        self.inverter = self._part(_inverter())
        for name, y in (*RAILS.items(), *BUS.items()):
            Marking(self, name, LETTERS, palette.INK).put(self.middle + [LEFT - 0.013 if name in RAILS else LEFT + 0.008, y, 0.001])
        self.names = {}
        for name, poles in POLES.items():
            self.names[name] = Marking(self, name, LETTERS, palette.INK)
            self.names[name].put(self.middle + [poles[-1] + 0.0135, (TOP + FOOT) / 2 + 0.007, 0.001])
        self.words = {name: self._letters(POLES[name][-1] + 0.016, (TOP + FOOT) / 2 - 0.009) for name in POLES}
        self.inverter_words = self._letters(POLES["K1"][-1] + 0.028, (TOP + FOOT) / 2)
        self.by_inverter = False
        self.closed: frozenset[str] = frozenset()

    def _part(self, shape: Mesh) -> Solid:
        part = self.add(Solid(shape))
        part.put(self.middle)
        return part

    def _letters(self, x: float, y: float) -> Letters:
        letters = self.add(Letters("", palette.PAPER, 15, ground=palette.SLATE, role="contactor"))
        letters.put(self.middle + [x, y, 0.002])
        return letters

    def show(self, closed: frozenset[str], by_inverter: bool, inverter_words: str = "") -> None:
        """closed: of K1, K2, K3; or, where an inverter stands in the place of all three, what it says."""
        self.closed, self.by_inverter = closed, by_inverter
        for name in POLES:
            here = self.visible and not by_inverter
            is_closed = name in closed
            self.branches[name].visible = here
            self.made[name].visible, self.broken[name].visible = here and is_closed, here and not is_closed
            self.words[name].visible = self.names[name].visible = here
            self.words[name].text = "closed" if is_closed else "open"
            self.words[name].paint(palette.PAPER, LIVE if is_closed else palette.SLATE)
        self.inverter.visible = self.inverter_words.visible = self.visible and by_inverter
        self.inverter_words.text = inverter_words

    def tell(self, found: Told) -> None:
        for k in range(3):
            found.leads.append((f"diagram {LINES[k]}", f"diagram {LINES[(k + 1) % 3]}", "diagram mains"))
            found.leads.append((f"diagram {ENDS[k]}", "diagram star point", f"diagram winding {ENDS[k]}"))
        if self.inverter.visible:
            found.leads += [(f"diagram {line}", f"diagram {end}", "diagram inverter") for line, end in TO_MOTOR["K1"].items()]
            return
        found.leads.append(("diagram +", "diagram \N{MINUS SIGN}", "diagram rectifier"))
        for name, ways in TO_MOTOR.items():
            for number, (start, end) in enumerate(ways.items()):
                first, second = (f"diagram {name} {2 * number + pole}" for pole in (1, 2))
                found.leads.append((f"diagram {start}", first, ""))
                if self.made[name].visible:
                    found.leads.append((first, second, f"diagram {name}"))
                found.leads.append((second, f"diagram {end}", ""))


def _wire(*points) -> list[Mesh]:
    return [rod([*a, 0], [*b, 0], THICK, WIRE, 6) for a, b in zip(points, points[1:], strict=False)]


def _dot(x: float, y: float) -> Mesh:
    return rod([x, y, -0.0004], [x, y, 0.001], 0.0019, WIRE, 10)


def _always() -> Mesh:
    """Rails, the bus to the motor, and the motor."""
    pieces = [piece for y in RAILS.values() for piece in _wire((LEFT, y), (RIGHT, y))]
    pieces += [piece for y in BUS.values() for piece in _wire((POLES["K1"][0], y), (POLES["K3"][1], y))]
    for x, y in zip(SHAFTS, BUS.values(), strict=True):
        pieces += [*_wire((x, y), (x, MOTOR[1] + 0.012)), _dot(x, y)]
    upright = np.array([[1.0, 0, 0], [0, 0, -1], [0, 1, 0]])
    circle = ring(0.0185, 0.0022, WIRE, 40, 6).turned(upright).moved([*MOTOR, 0])
    disc = rod([*MOTOR, -0.0006], [*MOTOR, 0.0004], 0.0185, palette.PAPER, 36)
    letter = joined(*[rod([MOTOR[0] + a, MOTOR[1] + b, 0.001], [MOTOR[0] + c, MOTOR[1] + d, 0.001], 0.0008, WIRE, 6) for a, b, c, d in M_3])
    return joined(*pieces, circle, disc, letter)


# an M, by its strokes from the motor's middle
M_3 = (
    (-0.006, -0.006, -0.006, 0.006),
    (-0.006, 0.006, 0.0, -0.003),
    (0.0, -0.003, 0.006, 0.006),
    (0.006, 0.006, 0.006, -0.006),
)


def _branch(name: str) -> Mesh:
    """The wires to and from a contactor's poles."""
    pieces = []
    for x, (start, end) in zip(POLES[name], TO_MOTOR[name].items(), strict=True):
        above = RAILS.get(start, SOURCE[1] - 0.009)
        pieces += [*_wire((x, above), (x, TOP)), *_wire((x, FOOT), (x, BUS[end])), _dot(x, BUS[end])]
        pieces += [_dot(x, above)] if start in RAILS else []
        pieces += [rod([x, y, 0], [x, y, 0.001], 0.0021, WIRE, 10) for y in (TOP, FOOT)]
    if name == "K3":
        x, y = SOURCE
        pieces += _converter(x, y, 0.034, 0.018, _waves, _steady)
        plus, minus = ((at + way * 0.006, y - 0.0155) for at, way in zip(POLES["K3"], (-1, 1), strict=True))
        pieces += [block([*sign, 0], [0.005, 0.0012, 0.001], WIRE) for sign in (plus, minus)]
        pieces.append(block([*plus, 0], [0.0012, 0.005, 0.001], WIRE))
    return joined(*pieces)


def _contacts(name: str, lean: float) -> Mesh:
    """Its blades, hinged at the lower ends, leaning to the left by `lean`, rad."""
    tip = (TOP - FOOT) * np.array([-np.sin(lean), np.cos(lean), 0.0])
    return joined(*[rod([x, FOOT, 0.0005], np.array([x, FOOT, 0.0005]) + tip, 0.0012, WIRE, 6) for x in POLES[name]])


def _converter(x: float, y: float, wide: float, high: float, into, out) -> list[Mesh]:
    """A box with what goes into it in its upper corner, and what comes out in its lower one (IEC 60617)."""
    left, right, top, foot = x - wide / 2, x + wide / 2, y + high / 2, y - high / 2
    lines = _wire((left, foot), (left, top), (right, top), (right, foot), (left, foot), (right, top))
    return [*lines, *into(x - 0.28 * wide, y + 0.22 * high), *out(x + 0.28 * wide, y - 0.22 * high)]


def _waves(x: float, y: float) -> list[Mesh]:
    """The sign for alternating current."""
    along = np.linspace(-1, 1, 9)
    return _wire(*zip(x + 0.0045 * along, y + 0.0019 * np.sin(np.pi * along), strict=True))


def _steady(x: float, y: float) -> list[Mesh]:
    """The sign for direct current."""
    return [*_wire((x - 0.004, y + 0.0012), (x + 0.004, y + 0.0012)), *_wire((x - 0.004, y - 0.0014), (x + 0.004, y - 0.0014))]


def _inverter() -> Mesh:
    """A box between the lines and the bus, in the place of the first contactor."""
    middle = POLES["K1"][1]
    pieces = _converter(middle, (TOP + FOOT) / 2, 0.05, TOP - FOOT, _waves, _waves)
    for x, line, end in zip(POLES["K1"], LINES, ENDS, strict=True):
        pieces += [*_wire((x, RAILS[line]), (x, TOP)), *_wire((x, FOOT), (x, BUS[end])), _dot(x, RAILS[line]), _dot(x, BUS[end])]
    return joined(*pieces)
