"""Resistors in steps on the slip rings of a wound rotor, with the contactors that short them out one after another."""

from __future__ import annotations

from functools import partial

import numpy as np

from visual import palette
from visual.apparatus.wiring import Inside, Lead, Terminal
from visual.solid.mesh import Mesh, block, joined, rod
from visual.solid.solids import Group, Letters, Solid
from visual.solid.told import Told, point
from visual.switchgear.contactor import FRONT, POLES, Link

RINGS = ("K", "L", "M")  # IEC 60034-8: the rotor's terminals
SECTION = 0.04  # m from one step to the next
OPEN_BY = np.radians(52)
COLD, IN_CIRCUIT = (0.6, 0.64, 0.66), palette.EMF


def short(open_by: float) -> Mesh:
    """Two blades that join three strings, from K to L and from L to M, leaning up by `open_by`, rad."""
    reach = (POLES[1] - POLES[0]) * np.array([np.cos(open_by), np.sin(open_by), 0.0])
    return joined(*[rod([x, 0, FRONT + 0.004], np.array([x, 0, FRONT + 0.004]) + reach, 0.003, palette.COPPER, 8) for x in POLES[:2]])


class RotorResistors(Group):
    """Three strings of `steps` resistors upward from the slip rings at `pos` to a star point.

    Contactor "step 1" shorts them below the uppermost, the next one below that, and so on; the last one, at the slip rings,
    shorts the rotor itself. `brushes`: places of the motor's brushes, to which leads go unless it is looked at from `near`.
    """

    def __init__(self, group, pos, steps: int, brushes):
        super().__init__()
        group.add(self)
        pos = np.asarray(pos, float)
        self.thing, self.steps = "rotor contactors", steps
        self.closed: set[str] = set()
        self.near = False
        rings = [Terminal("rotor", name, tuple(pos + [x, 0, FRONT])) for name, x in zip(RINGS, POLES, strict=True)]
        nodes = [
            [
                Terminal("resistors", f"{name}, step {level}", tuple(pos + [x, 0.025 + SECTION * level, FRONT]))
                for name, x in zip(RINGS, POLES, strict=True)
            ]
            for level in range(steps + 1)
        ]
        studs = [rod(np.asarray(each.at) - [0, 0, FRONT], each.at, 0.005, palette.BRASS, 8) for row in (rings, *nodes) for each in row]
        self.add(Solid(joined(*studs))).put((0, 0, 0))
        for ring, node in zip(rings, nodes[0], strict=True):
            Lead(self, ring, node)
            self.add(Letters(ring.marking, palette.PAPER, 14, ground=palette.INK)).put(np.asarray(ring.at) + [0.014, 0, 0.006])
        self.brush_leads = [self._to_brush(ring, at, level) for level, (ring, at) in enumerate(zip(rings, brushes, strict=True))]
        self.rows = [self._section(pos, nodes, level) for level in range(steps)]
        for first, second in zip(nodes[-1], nodes[-1][1:], strict=False):
            Link(self, first, second)
        made, broken = Solid(short(0.0)), Solid(short(OPEN_BY))
        self.made: list[Solid] = []
        self.broken: list[Solid] = []
        for level in range(steps):
            for blades, shape in ((self.made, made), (self.broken, broken)):
                blades.append(self.add(shape.copy()))
                blades[-1].put(pos + [0, 0.025 + SECTION * level, 0])
            for first, second in zip(nodes[level], nodes[level][1:], strict=False):
                Inside(self, self.contactor(level), first, second, partial(self._is_closed, level))
        made.visible = broken.visible = False
        self.words = self.add(Letters("", palette.PAPER, 14, ground=palette.SLATE))
        self.words.put(pos + [0, 0.025 + SECTION * steps + 0.022, 0.016])
        self.numbers = [
            self.add(Letters(self.contactor(level).removesuffix(" contactor"), palette.PAPER, 13, ground=palette.INK))
            for level in range(steps)
        ]
        for level, letters in enumerate(self.numbers):
            letters.put(pos + [POLES[-1] + 0.026, 0.025 + SECTION * level, 0.016])

    def _to_brush(self, ring: Terminal, at, level: int) -> Lead:
        """From a terminal of the rotor to its brush, and so through slip ring and winding to the star point in the rotor."""
        brush = Terminal("brush", ring.marking, at)
        y, z = ring.at[1] - 0.030 - 0.007 * level, ring.at[2] + 0.008
        side = at[0] - 0.044 - 0.006 * level
        via = [(ring.at[0], y, z), (side, y, z), (side, y, at[2]), (side + 0.02, at[1], at[2])]
        lead = Lead(self, ring, brush, via)
        Inside(self, f"slip ring {ring.marking}", brush, f"slip ring {ring.marking}", lambda: not self.near)
        Inside(self, f"rotor winding {ring.marking}", f"slip ring {ring.marking}", "rotor star point", lambda: not self.near)
        Inside(self, f"rotor winding {ring.marking}", ring, "rotor star point", lambda: self.near)
        return lead

    def _is_closed(self, level: int) -> bool:
        return self.contactor(level) in self.closed

    def contactor(self, level: int) -> str:
        """The name of the contactor at that height: step 1 is the uppermost."""
        return f"step {self.steps - level} contactor"

    def close(self, closed: set[str]) -> None:
        """Close those contactors; resistors that carry current are shown hot, the ones shorted out grey."""
        self.closed = closed
        for lead in self.brush_leads:
            lead.visible = self.visible and not self.near
        shorted = [self.contactor(level) in closed for level in range(self.steps)]
        for level in range(self.steps):
            self.made[level].visible = self.visible and shorted[level]
            self.broken[level].visible = self.visible and not shorted[level]
            self.rows[level].colour(COLD if any(shorted[: level + 1]) else IN_CIRCUIT)
        left = shorted.index(True) if any(shorted) else self.steps
        self.words.text = f"{left} of {self.steps} steps in circuit"

    def tell(self, found: Told) -> None:
        for level in range(self.steps):
            state = "closed" if self.made[level].visible else "open"
            found.marks.append((f"{self.contactor(level)} {state}", point(self.made[level].place[0]), 1 if state == "closed" else -1))

    def _section(self, pos, nodes, level: int) -> Solid:
        low = 0.025 + SECTION * level
        for first, second in zip(nodes[level], nodes[level + 1], strict=True):
            Inside(self, f"resistor {first.marking[0]} {level + 1}", first, second)
        shape = joined(
            *[block([x, low + SECTION / 2, FRONT - 0.002], [0.011, SECTION - 0.014, 0.008], (1, 1, 1)) for x in POLES],
            *[rod([x, low, FRONT], [x, low + SECTION, FRONT], 0.002, (1, 1, 1), 6) for x in POLES],
        )
        solid = self.add(Solid(shape))
        solid.put(pos)
        return solid
