"""An instrument on the bench: a case with its display, sockets at its foot, and the probes, clips or clamp that go with it."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from visual import palette
from visual.apparatus.wiring import Inside, TautLead, Terminal
from visual.instruments.digits import Digits
from visual.solid.mesh import block, joined, ring, rod
from visual.solid.solids import Group, Letters, Solid

WIDE, HIGH, DEEP = 0.236, 0.118, 0.03  # m, the case
GLASS = palette.rgb("#dfe6d8")
FIGURE = 0.05  # m, the height of a figure
PROBE_COLOURS = (palette.rgb("#b3261e"), palette.INK, palette.rgb("#d9a400"))  # red, black; the third clip yellow
TIP, HANDLE = 0.012, 0.05  # m
LEANS = np.array([0.08, -0.7, 0.66])  # from a tip along its handle: to the hand that holds it
JAW = 0.0125  # m, radius


@dataclass(frozen=True)
class Face:
    """What one instrument has on its case: name in words, the thing as it is told, its sockets' marks, its colour."""

    words: str
    thing: str
    sockets: tuple[str, ...]
    colour: tuple[float, float, float]


class Instrument(Group):
    """Several instruments in one place, about `middle`, (3,), of which one is there: `choose`, then `show` and `lay`."""

    def __init__(self, middle, faces: dict[str, Face]):
        super().__init__()
        self.middle, self.faces, self.chosen = np.asarray(middle, float), faces, ""
        self.cases = {name: self.add(Solid(_case(face))) for name, face in faces.items()}
        for case in self.cases.values():
            case.put(self.middle)
        front = self.middle + [0, 0, DEEP / 2 + 0.002]
        self._laid = 0
        self.digits = self.add(Digits(front + [0.063, -0.018, 0], FIGURE))
        self.unit = self.add(Letters("", palette.INK, 32, role="display"))
        self.unit.put(front + [0.084, -0.006, 0])
        self.words = self.add(Letters("", palette.INK, 24, role="display"))
        self.words.put(front + [0, 0.006, 0])
        self.name = self.add(Letters("", palette.PAPER, 16, ground=palette.SLATE, role="instrument"))
        self.name.put(self.middle + [0, HIGH / 2 + 0.015, 0])
        self.probes = [Probe(self, self.middle + [-0.08 + 0.04 * k, -HIGH / 2 - 0.006, 0.006], k) for k in range(3)]
        self.jaw = Jaw(self, self.middle + [-0.1, -HIGH / 2 - 0.006, 0.006])
        sockets = [probe.socket for probe in self.probes]
        Inside(self, "instrument", sockets[0], sockets[1], lambda: self._laid > 1)
        Inside(self, "instrument", sockets[1], sockets[2], lambda: self._laid > 2)

    def choose(self, name: str) -> None:
        self.chosen = name
        for each, case in self.cases.items():
            case.visible = self.visible and each == name
        face = self.faces[name]
        self.name.text = face.words
        for probe, mark in zip(self.probes, (*face.sockets, "", ""), strict=False):
            probe.socket.thing, probe.socket.marking = face.thing, mark

    def show(self, figure: str, unit: str, words: str = "") -> None:
        """A figure with its unit, or words in their place."""
        self.digits.show("" if words else figure)
        self.unit.text, self.words.text = ("", words) if words else (unit, "")
        self.unit.visible, self.words.visible = self.visible and bool(self.unit.text), self.visible and bool(words)

    def lay(self, terminals: list[Terminal]) -> None:
        """The probes or clips on those terminals, one each; the others are out of sight."""
        self._laid = len(terminals)
        for k, probe in enumerate(self.probes):
            probe.lay(terminals[k] if k < len(terminals) else None)


class Probe:
    """A probe or clip with its lead from a socket of the instrument."""

    visible = True  # its solids are in the group by themselves

    def __init__(self, group, socket, number: int):
        colour = PROBE_COLOURS[number]
        self.group = group
        self.socket = Terminal("instrument", str(number), tuple(np.asarray(socket, float)))
        self.solid = group.add(Solid(_probe(colour)))
        self.lead = TautLead(group, self.socket, Terminal("", "", (0.0, 0.0, 0.0)), 0.0032, colour)
        self.lay(None)

    def lay(self, terminal: Terminal | None) -> None:
        there = self.group.visible and terminal is not None
        if terminal is not None:
            along = LEANS / np.linalg.norm(LEANS)
            tip = np.asarray(terminal.at, float)
            across = np.cross(along, [0, 0, 1.0])
            self.solid.put_along(tip, along.tolist(), (across / np.linalg.norm(across)).tolist())
            self.lead.second = Terminal(terminal.thing, terminal.marking, tuple(tip + (TIP + HANDLE) * along))
            self.lead.put()
        self.solid.visible = self.lead.solid.visible = there


class Jaw:
    """The jaw of a clamp, closed round a lead that goes up, and its cord."""

    visible = True

    def __init__(self, group, socket):
        self.group = group
        self.solid = group.add(Solid(_jaw()))
        cord = Terminal("clamp meter", "cord", tuple(np.asarray(socket, float)))
        self.lead = TautLead(group, cord, Terminal("jaw", "", (0.0, 0.0, 0.0)), 0.0042)
        self.round(None, "")

    def round(self, place, line: str) -> None:
        there = self.group.visible and place is not None
        if place is not None:
            at = np.asarray(place, float)
            self.solid.put(at)
            self.lead.second = Terminal("jaw round", line, tuple(at + [0.008, -0.013, 0.036]))
            self.lead.put()
        self.solid.visible = self.lead.solid.visible = there


def _case(face: Face):
    """Case, display and its frame, a knob, and as many sockets as it has, about the origin."""
    parts = [
        block([0, 0, 0], [WIDE, HIGH, DEEP], face.colour),
        block([0.0, 0.008, DEEP / 2], [WIDE - 0.014, HIGH - 0.03, 0.0025], palette.INK),
        block([0.0, 0.008, DEEP / 2 + 0.0008], [WIDE - 0.022, HIGH - 0.038, 0.0025], GLASS),
        rod([0.09, -HIGH / 2 + 0.011, DEEP / 2], [0.09, -HIGH / 2 + 0.011, DEEP / 2 + 0.006], 0.007, palette.STEEL, 16),
    ]
    sockets = [(-0.08 + 0.04 * k, PROBE_COLOURS[k]) for k in range(len(face.sockets))] or [(-0.1, palette.INK)]
    for x, colour in sockets:
        parts.append(rod([x, -HIGH / 2 - 0.006, 0.006], [x, -HIGH / 2 + 0.002, 0.006], 0.0058, colour, 12))
    return joined(*parts)


def _probe(colour):
    """A probe from its tip at the origin along x: bare tip, guard, handle."""
    return joined(
        rod([0, 0, 0], [TIP + 0.004, 0, 0], 0.0022, palette.STEEL, 8),
        rod([TIP, 0, 0], [TIP + 0.004, 0, 0], 0.0075, colour, 14),
        rod([TIP, 0, 0], [TIP + HANDLE, 0, 0], 0.0048, colour, 10),
    )


def _jaw():
    """Two half-rings and a handle toward +z, round a lead along y through the origin."""
    c, s = np.cos(0.35), np.sin(0.35)  # it hangs a little toward whoever reads it
    hangs = np.array([[1.0, 0, 0], [0, c, -s], [0, s, c]])
    jaw = joined(ring(JAW, 0.0052, palette.NORTH, 28, 8), block([0.004, 0, 0.024], [0.018, 0.011, 0.026], palette.INK))
    return jaw.turned(hangs)
