"""An alternator with its stator cut away: coils in their slots, a permanent-magnet rotor in the bore, and lamps beside it.

The shaft is z, the drive end toward +z; angles in radians, counter-clockwise looking at that end.
"""

from __future__ import annotations

from functools import partial

import numpy as np

from visual import palette
from visual.apparatus.lamp import Lamp
from visual.apparatus.wiring import Inside, Lead, Terminal
from visual.hand.rule_hand import RuleHand
from visual.machines.machine_shapes import ring_part
from visual.machines.stator import SLOT_SHARE, WHITE, CurrentMark, StatorShape, polar, turned
from visual.machines.winding.coil_leads import CoilLeads
from visual.machines.winding.coils import OVERHANG, CoilPlace, coil_mesh
from visual.solid.mesh import block, joined, repeated, rod
from visual.solid.shade import bench_plate, hidden_share, shaded, with_shade
from visual.solid.solids import Arrow, Group, Letters, Solid

WINDOW = np.radians([30.0, 90.0])  # where the iron is cut away
FLOOR = -0.117  # m, the top of the board
WHEEL, HUB = 0.0585, 0.038  # m, radii of the rotor and of its hub
LAMPS_AT = np.array([[0.162, y, 0.0] for y in (0.026, -0.045, FLOOR)])  # on shelves, U at the top
LAMP = 0.046  # m
HAND_AT = (-0.158, 0.0, 0.04)
STUDS_AT = np.array([0.115, 0.040, 0.018])  # m, the stud U1; the others stand below it
STUD_PITCH = 0.024  # m
PHASES = ("U", "V", "W")


class AlternatorDrawn(Group):
    """`machines` gives for each number of poles the slots' angles and the coils as (phase 0..2, go slot, return slot); an
    arrow is so many metres long for each tesla, and for each metre a second."""

    def __init__(self, machines: dict, metres_per_tesla: float, metres_per_speed: float):
        super().__init__()
        shape = StatorShape()
        self.add(Solid(_stand())).put((0, 0, 0))
        self.terminals = Terminals()
        self.machines = {
            poles: self.add(Machine(shape, poles, angles, coils, self.terminals.studs)) for poles, (angles, coils) in machines.items()
        }
        self.coloured: tuple[int, object] | None = None
        self.add(self.terminals)
        self.lamps = [Lamp(self, place, LAMP) for place in LAMPS_AT]
        self.rack = self.add(Solid(_rack()))
        self.rack.put((0, 0, 0))
        self.leads = [Lead(self, self.terminals.begin[k], _lamp_end(k, 0), _way_to_lamp(k), 0.0042, WHITE) for k in range(3)]
        returns = [self.terminals.end[0], *[_lamp_end(k, 1) for k in range(3)]]
        self.returns = [Lead(self, returns[k + 1], returns[k], _way_back() if k == 0 else (), 0.0036, palette.CORD) for k in range(3)]
        for k, phase in enumerate(PHASES):
            Inside(self, f"lamp {phase}", _lamp_end(k, 0), _lamp_end(k, 1), partial(self._burns, k))
        self.field = self.add(Arrow("B", palette.FIELD, 0.0062, metres_per_tesla))
        self.motion = self.add(Arrow("v", palette.MOTION, 0.0062, metres_per_speed))
        self.hand = self.add(RuleHand("right", 0.075, ("v", "B", "E"), (palette.MOTION, palette.FIELD, palette.EMF)))

    def _burns(self, lamp: int) -> bool:
        return bool(self.lamps[lamp].bulb.visible)

    def show(self, poles: int) -> None:
        """The machine with that many poles."""
        for number, machine in self.machines.items():
            machine.visible = number == poles
        self.machine = self.machines[poles]

    def colour(self, colours, inks) -> None:
        """The phases' colours, and what letters on them are written in."""
        if self.coloured == (self.machine.poles, colours):
            return
        self.coloured = (self.machine.poles, colours)
        for coil, lead, letters, colour, ink in zip(self.machine.coils, self.leads, self.terminals.letters, colours, inks, strict=False):
            coil.colour(colour)
            lead.colour(colour)
            letters.paint(ink, colour)
        self.machine.leads.colour(colours)
        for letters, phase in zip(self.machine.letters, self.machine.phases, strict=True):
            letters.paint(inks[phase], colours[phase])

    def connect(self, connected) -> None:
        """Which of the three phases feed a lamp."""
        self.rack.visible = any(connected)
        for lamp, lead, back, there in zip(self.lamps, self.leads, self.returns, connected, strict=True):
            lamp.socket.visible = lamp.bulb.visible = lead.visible = back.visible = bool(there)

    def light(self, shares) -> None:
        """With what share of full brightness each lamp glows."""
        for lamp, share in zip(self.lamps, shares, strict=True):
            lamp.glow(share)

    def point_out(self, place, field, motion, hand) -> None:
        """Field, T, and motion, m/s, at one coil side, and the right hand that goes with them or None."""
        self.field.put(place, field)
        self.motion.put(place, motion)
        self.hand.put(HAND_AT, hand, place)


class Terminals(Group):
    """The terminal board beside the stator: the beginnings of the coils, one stud each, and below them their ends, which the
    star link joins (IEC 60034-8: U1, V1, W1 and U2, V2, W2)."""

    def __init__(self):
        super().__init__()
        self.begin = [Terminal("terminal", f"{phase}1", tuple(STUDS_AT + [0, -STUD_PITCH * k, 0])) for k, phase in enumerate(PHASES)]
        self.end = [Terminal("terminal", f"{phase}2", tuple(STUDS_AT + [0.006 * k, -STUD_PITCH * 3, 0])) for k, phase in enumerate(PHASES)]
        self.add(Solid(_board())).put((0, 0, 0))
        self.letters = [self.add(Letters(each.marking, palette.PAPER, 16, ground=palette.INK)) for each in self.begin]
        self.joined = self.add(Letters("", palette.PAPER, 16, ground=palette.INK))
        for letters, each in zip([*self.letters, self.joined], [*self.begin, self.end[0]], strict=True):
            letters.put(np.array(each.at) + [-0.004, 0, 0.012])
        self.studs = {each.marking: each.at for each in (*self.begin, *self.end)}
        self.wound = 0
        for k, phase in enumerate(PHASES):
            Inside(self, f"coil {phase}", self.begin[k], self.end[k], partial(self._is_wound, k))
        for k in (1, 2):
            Inside(self, "star link", self.end[k - 1], self.end[k], partial(self._is_wound, k))

    def _is_wound(self, coil: int) -> bool:
        return self.wound > coil

    def wind(self, count: int, side: float) -> None:
        """How many of the coils there are, the first `count`; letters only on the `side` of +z, 1, where the studs are seen."""
        self.wound = count
        self.joined.text = " ".join(each.marking for each in self.end[:count])
        for k, letters in enumerate([*self.letters, self.joined]):
            letters.visible = self.visible and side > 0 and (k < count or letters is self.joined)


class Machine(Group):
    """Stator and rotor for one number of poles."""

    def __init__(self, shape: StatorShape, poles: int, angles, coils, studs: dict):
        super().__init__()
        self.shape, self.poles, self.angles = shape, poles, np.asarray(angles, float)
        pitch = 2 * np.pi / len(self.angles)
        self.iron = self.add(Solid(_iron(shape, self.angles, pitch)))
        self.iron.put((0, 0, 0))
        self.places = [CoilPlace(phase, float(self.angles[go]), float(self.angles[back])) for phase, go, back in coils]
        own = coil_mesh(shape, self.places[0].span, _side(shape, pitch))
        own = with_shade(own, hidden_share(own, joined(*[own.turned(turned(place.go - self.places[0].go)) for place in self.places])))
        self.coils = [self.add(Solid(repeated(own, [place.go for place in self.places if place.phase == k]))) for k in range(3)]
        self.leads = self.add(CoilLeads(shape, self.places, studs))
        for drawn in self.coils:
            drawn.put((0, 0, 0))
        self.phases, groups = np.zeros(len(self.angles), int), [""] * len(self.angles)
        for phase, go, back in coils:
            self.phases[[go, back]] = phase
            groups[go], groups[back] = f"+{PHASES[phase]}", f"\N{MINUS SIGN}{PHASES[phase]}" if poles < 6 else ""  # no room for all
        self.mark_radius = 0.47 * min(SLOT_SHARE * pitch * shape.slot_middle, shape.slot_bottom - shape.bore)
        self.marks = [self.add(CurrentMark(shape.half_length + OVERHANG + 0.001)) for _ in self.angles]
        self.letters = [self.add(Letters(group, palette.PAPER, 20 if poles < 6 else 17, ground=palette.INK)) for group in groups]
        self.wheel = self.add(Solid(_wheel(shape, poles)))
        self.pole_letters = [
            self.add(Letters(letter, palette.PAPER, 24 if poles < 6 else 19, ground=colour))
            for _ in range(poles // 2)
            for letter, colour in (("N", palette.NORTH), ("S", palette.SOUTH))
        ]

    def wind(self, shown) -> None:
        """Which of the three phases' coils lie in their slots."""
        for coil, there in zip(self.coils, shown, strict=True):
            coil.visible = bool(there)
        self.leads.connect([bool(there) for there in shown])
        for letters, mark, phase in zip(self.letters, self.marks, self.phases, strict=True):
            mark.visible = bool(shown[phase])
            letters.visible = bool(shown[phase] and letters.text)

    def seen_from(self, side: float) -> None:
        """Put the letters at the end at +z for a `side` of 1, at the other for -1."""
        for letters, angle in zip(self.letters, self.angles, strict=True):
            letters.put(polar(self.shape.outside + 0.011, angle, side * self.shape.half_length))

    def drive(self, shares) -> None:
        """What the slots' EMF drives toward +z, each as a share of the largest."""
        for mark, angle, share in zip(self.marks, self.angles, shares, strict=True):
            mark.put(polar(self.shape.slot_middle, angle), self.mark_radius, float(share))

    def turn(self, north: float, side: float, magnetic: bool) -> None:
        """Turn the rotor until the middle of a north pole is at the angle `north`; letters at the end of that side,
        and none when it is not `magnetic`."""
        self.wheel.put((0, 0, 0), turned(north))
        for place, letters in enumerate(self.pole_letters):
            letters.visible = magnetic
            letters.put(polar(0.042, north + 2 * np.pi * place / self.poles, side * (self.shape.half_length + 0.004)))


def _iron(shape: StatorShape, angles, pitch: float):
    """Teeth and yoke, but for those in the window."""
    half = SLOT_SHARE * pitch / 2
    parts = []
    for angle in angles:
        for start, end, inner in ((angle - half, angle + half, shape.slot_bottom), (angle + half, angle + pitch - half, shape.bore)):
            middle = ((start + end) / 2) % (2 * np.pi)
            if not WINDOW[0] + 1e-6 < middle < WINDOW[1] - 1e-6:
                parts.append(ring_part(inner, shape.outside, start, end, -shape.half_length, shape.half_length, palette.IRON))
    return joined(*parts)


def _side(shape: StatorShape, pitch: float):
    """A coil side in a slot at angle 0, white, that stands out of the iron at both ends."""
    half, out = SLOT_SHARE * pitch / 2 * 0.9, shape.half_length + OVERHANG
    return ring_part(shape.bore + 0.001, shape.slot_bottom - 0.0005, -half, half, -out, out, WHITE)


def _wheel(shape: StatorShape, poles: int):
    """The permanent-magnet rotor, which fills the bore, on its shaft, the middle of a north pole at angle 0."""
    pitch, half = 2 * np.pi / poles, shape.half_length + 0.002
    faces = [
        ring_part(HUB, WHEEL, (k - 0.46) * pitch, (k + 0.46) * pitch, -half, half, palette.SOUTH if k % 2 else palette.NORTH)
        for k in range(poles)
    ]
    return joined(
        *faces,
        ring_part(0.006, HUB, 0, 2 * np.pi, -half + 0.001, half - 0.001, palette.IRON),
        *[ring_part(HUB - 0.004, HUB + 0.003, 0, 2 * np.pi, z, z + 0.0025, palette.STEEL) for z in (-half - 0.0025, half)],
        rod([0, 0, -0.085], [0, 0, 0.095], 0.008, palette.STEEL, 14),
        block([0.007, 0, 0.085], [0.004, 0.004, 0.02], palette.SLATE),
    )


def _stand():
    """Board and feet."""
    feet = [block([side * 0.06, (FLOOR - 0.082) / 2, 0], [0.03, -0.082 - FLOOR, 0.05], palette.SLATE) for side in (-1, 1)]
    stands = [(side * 0.06, 0.0, 0.015, 0.025) for side in (-1, 1)]
    return joined(bench_plate(0.21, 0.12, FLOOR, 0.012, palette.WOOD, stands), *[shaded(foot, ground=FLOOR) for foot in feet])


def _rack():
    """Post and shelves for the lamps."""
    x, top, _ = LAMPS_AT[0]
    return joined(
        block([x + 0.031, (FLOOR + top) / 2, 0], [0.006, top - FLOOR, 0.03], palette.SLATE),
        *[block([x + 0.004, y - 0.002, 0], [0.06, 0.004, 0.036], palette.SLATE) for _, y, _ in LAMPS_AT[:2]],
    )


def _board():
    """The terminal board with its four studs, on the stator's side."""
    x, y, z = STUDS_AT
    middle = y - 1.5 * STUD_PITCH
    return joined(
        block([x - 0.004, middle, z - 0.014], [0.034, 4.4 * STUD_PITCH, 0.018], palette.SLATE),
        *[rod([x, y - STUD_PITCH * k, z - 0.006], [x, y - STUD_PITCH * k, z + 0.003], 0.0032, palette.BRASS, 10) for k in range(4)],
    )


def _lamp_end(phase: int, end: int) -> Terminal:
    """One of the two ends of the lamp of a phase."""
    return Terminal(f"lamp {PHASES[phase]}", "12"[end], tuple(LAMPS_AT[phase] + LAMP * np.array([0.8 * end - 0.4, 0.3, 0])))


def _way_to_lamp(phase: int):
    """From the stud of a phase to its lamp."""
    x, y, z = STUDS_AT + [0, -STUD_PITCH * phase, 0]
    lamp = LAMPS_AT[phase] + LAMP * np.array([-0.4, 0.3, 0])
    return [[x + 0.006, y, z + 0.004], lamp + [-0.012, -0.004, 0.004]]


def _way_back():
    """From the far end of the first lamp, under it and its shelf, to the joined ends of the coils."""
    lamp, (x, y, z) = LAMPS_AT[0] + LAMP * np.array([0.4, 0.3, 0]), STUDS_AT + [0, -STUD_PITCH * 3, 0]
    return [lamp + [0.012, -0.006, -0.02], [lamp[0] + 0.004, -0.006, -0.034], [x + 0.02, -0.008, -0.03], [x + 0.012, y, z]]
