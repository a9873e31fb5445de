"""The main circuit of each usual starter, as leads from terminal to terminal: supply, contactors, a motor's six studs.

What is drawn is the main circuit alone: isolator, fuses, overload relay, earth and control circuit are not. Star-delta: the
motor's links are out, six leads go back to the starter; the star contactor joins U2, V2, W2, the delta contactor U1-W2, V1-U2,
W1-V2 by way of the lines (usual wiring; IEC 60034-8 letters). Autotransformer: closed transition, star point opened first.
"""

from __future__ import annotations

import numpy as np

from visual import palette
from visual.apparatus.circuit import cord
from visual.apparatus.wiring import Inside, Lead, Terminal
from visual.solid.mesh import Mesh, block, joined, rod
from visual.solid.solids import Group, Letters, Solid
from visual.switchgear.contactor import FRONT, PITCH, Contactor, Link, StartingTransformer, TerminalBoard, ThroughBox, contactor_shapes
from visual.switchgear.rotor_resistors import RotorResistors

LEFT, MIDDLE, RIGHT = -0.122, 0.0, 0.135  # m, where the contactors stand
CONTACTORS_AT, BOARD_AT = 0.09, -0.07
BARS_AT = (0.2, 0.17, 0.14)
OVER = 0.008  # m that a lead which crosses others lies in front of them
SUPPLY_AT = (-0.16, 0.17)  # m, where its cable comes through the plate
LINES = ("L1", "L2", "L3")
INTERLOCKED = {"star contactor", "delta contactor"}


# Long, for six starters are wired to the same bars and the same board, each in a short method.
class StarterPanel(Group):
    """A panel at `pos` with the starter of one method at a time, and the motor's terminal board, drawn
    large, with a cable to the `gland` of the motor itself; `brushes`: places of those of a wound rotor, K, L, M.

    methods: direct, star-delta, autotransformer, soft-starter, inverter, wound-rotor; `steps` of resistors for the last.
    """

    def __init__(self, group, pos, voltage: float, steps: int, gland, brushes):
        super().__init__()
        group.add(self)
        self.pos = np.asarray(pos, float)
        self.by_line: list[list[Solid]] = [[], [], []]  # what has the colour of L1, L2, L3
        self.painted = None
        self.shapes = contactor_shapes()
        panel = block([0.012, 0.022, -0.004], [0.42, 0.4, 0.006], (0.80, 0.82, 0.81))
        feet = [block([0.012 + x, -0.17, -0.024], [0.02, 0.014, 0.09], palette.SLATE) for x in (-0.19, 0.19)]
        self.add(Solid(joined(panel, *feet, *_back()))).put(self.pos)
        self._supply(voltage)
        self._to_motor(gland)
        self.stage = self.add(Letters("", palette.PAPER, 18, ground=palette.SLATE, role="stage"))
        self.stage.put(self.pos + [MIDDLE, BOARD_AT - 0.089, 0.01])
        self.board = TerminalBoard(self, self.pos + [MIDDLE, BOARD_AT, 0], 0.05)
        wiring = {
            "direct": self._direct,
            "star-delta": self._star_delta,
            "autotransformer": self._autotransformer,
            "soft-starter": lambda group: self._box(group, "soft starter", ("1", "3", "5"), ("2", "4", "6")),
            "inverter": lambda group: self._box(group, "inverter", ("L1", "L2", "L3"), ("U", "V", "W")),
            "wound-rotor": lambda group: self._wound_rotor(group, steps, brushes),
        }
        self.starters = {name: self.add(Group()) for name in wiring}
        for name, wire in wiring.items():
            wire(self.starters[name])

    def show(self, method: str, stage: str, closed: set[str], tap: float, near: bool, behind: bool = False) -> None:
        """The starter of that `method`, in that `stage`, the contactors named in `closed` closed; `near`: every terminal is
        marked, and the cable to the motor, which is then out of sight, left out; `behind`: seen from the back, where nothing is
        to be read."""
        if INTERLOCKED <= closed:
            raise ValueError("the star and the delta contactor are interlocked: one of them at most is closed")
        self.stage.text = stage
        self.cable.visible = not near
        for name, starter in self.starters.items():
            starter.visible = name == method
        for letters in _letters_in(self):
            letters.visible = not behind
        self.interlock.visible = near and method == "star-delta"
        self.board.links.visible = method != "star-delta"
        self.transformer.set_tap(tap)
        for part in self.starters[method].parts:
            if isinstance(part, Contactor):
                part.near = near
                part.close(part.thing in closed)
            elif isinstance(part, RotorResistors):
                part.near = near
                part.close(closed)
            for letters in getattr(part, "numbers", ()):
                letters.visible = near

    def paint(self, colours) -> None:
        """The leads on L1, L2, L3 in those colours, (3, 3)."""
        if colours != self.painted:
            self.painted = colours
            for own, colour in zip(self.by_line, colours, strict=True):
                for solid in own:
                    solid.colour(colour)

    # its parts

    def _to_motor(self, gland) -> None:
        """The cable from the board to the motor's own terminal box, whose `gland` is at that place."""
        start = self.pos + [MIDDLE + PITCH + 0.02, BOARD_AT - 0.03, 0.004]
        low = self.pos + [RIGHT, BOARD_AT - 0.053, 0.006]
        along = [start, start + [0.02, -0.02, 0.002], low, low + [0.11, 0, 0], np.asarray(gland) - [0.03, 0, 0], gland]
        self.cable = self.add(Solid(cord(along, 0.011, palette.CORD, 8)))
        self.cable.put((0, 0, 0))

    def _lead(self, line: int, group, first: Terminal, second: Terminal, via=()) -> None:
        """A lead in the colour of that line, from 0."""
        self.by_line[line].append(Lead(group, first, second, via, colour=(1, 1, 1)))

    def _supply(self, voltage: float) -> None:
        for name, y, own in zip(LINES, BARS_AT, self.by_line, strict=True):
            own.append(self.add(Solid(block([-0.075, y, FRONT], [0.23, 0.006, 0.004], (1, 1, 1)))))
            own[-1].put(self.pos)
            self.add(Letters(name, palette.PAPER, 14, ground=palette.INK)).put(self.pos + [-0.205, y, FRONT])
            Inside(self, "supply", Terminal("supply", name, (0, 0, 0)), Terminal("supply", "star point", (0, 0, 0)))
        words = self.add(Letters(f"supply {voltage:.0f} V", palette.PAPER, 14, ground=palette.SLATE))
        words.put(self.pos + [0.125, BARS_AT[0], FRONT])
        plate = self.add(
            Letters(f"motor terminals, {voltage:.0f} V \N{GREEK CAPITAL LETTER DELTA}", palette.PAPER, 14, ground=palette.SLATE)
        )
        plate.put(self.pos + [MIDDLE, BOARD_AT + 0.052, 0.02])

    def _contactor(self, group, x: float, thing: str, words: str) -> Contactor:
        return Contactor(group, self.pos + [x, CONTACTORS_AT, 0], thing, words, self.shapes)

    def _fed(self, group, top) -> None:
        """Leads down from the bars to three terminals."""
        for name, y, terminal, line in zip(LINES, BARS_AT, top, range(3), strict=True):
            at = np.array([terminal.at[0], self.pos[1] + y, self.pos[2] + FRONT])
            front = [0, 0, OVER]
            self._lead(line, group, Terminal("supply", name, tuple(at)), terminal, [at + front, np.asarray(terminal.at) + front])

    def _to_lower_studs(self, group, bottom) -> None:
        """Leads from three terminals down beside the board and up to U1, V1, W1 from below."""
        for name, terminal, level, line in zip(("U1", "V1", "W1"), bottom, (-0.118, -0.13, -0.142), range(3), strict=True):
            stud = self.board.terminals[name]
            y = self.pos[1] + level
            corner = [terminal.at[0], y, terminal.at[2]]
            self._lead(
                line,
                group,
                terminal,
                stud,
                [corner, np.add(corner, [0.004, 0, OVER]), [stud.at[0], y, stud.at[2] + OVER], [stud.at[0], y + 0.006, stud.at[2]]],
            )

    def _bridge(self, group, terminals) -> None:
        """A bar that joins three terminals: a star point."""
        for first, second in zip(terminals, terminals[1:], strict=False):
            Link(group, first, second)

    def _direct(self, group) -> None:
        main = self._contactor(group, LEFT, "main contactor", "main")
        self._fed(group, main.top)
        self._to_lower_studs(group, main.bottom)

    def _star_delta(self, group) -> None:
        self._direct(group)
        delta = self._contactor(group, MIDDLE, "delta contactor", "delta")
        star = self._contactor(group, RIGHT, "star contactor", "star")
        self._fed(group, delta.top)
        for name, terminal, line in zip(("W2", "U2", "V2"), delta.bottom, range(3), strict=True):
            self._lead(line, group, terminal, self.board.terminals[name])
        self._across(group, delta.bottom, star.bottom, (0.047, 0.036, 0.025))
        self._bridge(group, star.top)
        bar = group.add(
            Solid(
                rod(
                    [MIDDLE + PITCH + 0.013, CONTACTORS_AT - 0.024, 0.006],
                    [RIGHT - PITCH - 0.013, CONTACTORS_AT - 0.024, 0.006],
                    0.003,
                    palette.STEEL,
                    6,
                )
            )
        )
        bar.put(self.pos)
        words = self.interlock = self.add(Letters("interlocked", palette.PAPER, 13, ground=palette.SLATE))
        words.put(self.pos + [0.5 * (MIDDLE + RIGHT), CONTACTORS_AT - 0.024, 0.016])

    def _across(self, group, first, second, levels) -> None:
        """Leads from three terminals to three others to the right of them, each at a height of its own, in front of the others."""
        for one, other, level, line in zip(first, second, levels, range(3), strict=True):
            y, z = self.pos[1] + level, one.at[2] + OVER
            self._lead(line, group, one, other, [[one.at[0], y, z], [other.at[0], y, z]])

    def _autotransformer(self, group) -> None:
        full = self._contactor(group, LEFT, "full-voltage contactor", "full voltage")
        feed = self._contactor(group, MIDDLE, "transformer contactor", "transformer")
        star = self._contactor(group, RIGHT, "star-point contactor", "star point")
        self._fed(group, full.top)
        self._fed(group, feed.top)
        self._to_lower_studs(group, full.bottom)
        self._bridge(group, star.top)
        coils = self.transformer = StartingTransformer(group, self.pos + [MIDDLE, 0.012, 0], 0.042)
        for above, below, line in zip(feed.bottom, coils.top, range(3), strict=True):
            self._lead(line, group, above, below)
        for tap, terminal, level, line in zip(coils.taps, full.bottom, (0.020, 0.030, 0.040), range(3), strict=True):
            y, z = self.pos[1] + level, tap.at[2] + OVER
            self._lead(line, group, tap, terminal, [[tap.at[0], y, z], [terminal.at[0], y, z]])
        for end, terminal, level, line in zip(coils.bottom, star.bottom, (-0.014, -0.004, 0.004), range(3), strict=True):
            y, z = self.pos[1] + level, end.at[2] + OVER
            self._lead(line, group, end, terminal, [[end.at[0], y, z], [terminal.at[0], y, z]])

    def _box(self, group, thing: str, top, bottom) -> None:
        main = self._contactor(group, LEFT, "main contactor", "main")
        self._fed(group, main.top)
        box = ThroughBox(group, self.pos + [LEFT, 0.005, 0], thing, thing, top, bottom, lambda: main.closed)
        for above, below, line in zip(main.bottom, box.top, range(3), strict=True):
            self._lead(line, group, above, below)
        self._to_lower_studs(group, box.bottom)

    def _wound_rotor(self, group, steps: int, brushes) -> None:
        self._direct(group)
        RotorResistors(group, self.pos + [RIGHT, BOARD_AT - 0.03, 0], steps, brushes)


def _back() -> list[Mesh]:
    """What is seen from behind: channels that stiffen the plate, the ends of the bolts that hold what is in front, and the supply's
    cable, which comes up to the bars through a gland."""
    channels = [block([0.012, y, -0.012], [0.40, 0.022, 0.010], (0.50, 0.54, 0.55)) for y in (CONTACTORS_AT, BOARD_AT)]
    bolts = [
        rod([x, y, -0.016], [x, y, -0.022], 0.004, palette.STEEL, 6)
        for y in (CONTACTORS_AT, BOARD_AT)
        for x in (LEFT - PITCH, LEFT + PITCH, MIDDLE - PITCH, MIDDLE + PITCH, RIGHT - PITCH, RIGHT + PITCH)
    ]
    x, y = SUPPLY_AT
    cable = cord([[x, -0.172, -0.020], [x, y - 0.03, -0.020], [x, y - 0.006, -0.016], [x, y, -0.004]], 0.011, palette.CORD, 8)
    gland = rod([x, y, -0.006], [x, y, -0.018], 0.013, palette.SLATE, 10)
    return [*channels, *bolts, cable, gland]


def _letters_in(group: Group):
    """All letters of a group that is in sight, and of the groups in it that are."""
    for part in group.parts:
        if isinstance(part, Letters):
            yield part
        elif isinstance(part, Group) and part.visible:
            yield from _letters_in(part)
