"""An alternator with its stator cut away: coils in their slots, a magnet wheel in the bore, and lamps beside it.

The shaft is z, the drive end toward +z; angles in radians, counter-clockwise seen from there.
"""

from __future__ import annotations

import numpy as np

from visual import palette
from visual.apparatus.circuit import cord
from visual.apparatus.lamp import Lamp
from visual.hand.hand_on_bench import FlemingHand
from visual.machines.machine_shapes import ring_part
from visual.machines.stator import SLOT_SHARE, WHITE, CurrentMark, StatorShape, polar, turned
from visual.solid.mesh import block, joined, rod
from visual.solid.solids import Arrow, Group, Letters, Solid

WINDOW = np.radians([30.0, 90.0])  # where the iron is cut away
END_TURNS = 0.093  # m from the shaft, where the coils go round from slot to slot
FLOOR = -0.117  # m, the top of the board
WHEEL = 0.0565  # m, radius of the magnet wheel
LAMPS_AT = np.array([[0.162, y, 0.0] for y in (0.026, -0.045, FLOOR)])  # on shelves, U at the top
LAMP = 0.046  # m
HAND_AT = (-0.158, 0.0, 0.04)
PHASES = ("U", "V", "W")


class AlternatorDrawn(Group):
    """`machines` gives for each number of poles the slots' angles and the coils as (phase 0..2, go slot, return slot)."""

    def __init__(self, machines: dict):
        super().__init__()
        shape = StatorShape()
        self.add(Solid(_stand())).put((0, 0, 0))
        self.machines = {poles: self.add(Machine(shape, poles, angles, coils)) for poles, (angles, coils) in machines.items()}
        self.coloured = None
        self.lamps = [Lamp(self, place, LAMP) for place in LAMPS_AT]
        self.rack = self.add(Solid(_rack()))
        self.rack.put((0, 0, 0))
        self.cords = [self.add(Solid(_lead(k))) for k in range(3)]
        for lead in self.cords:
            lead.put((0, 0, 0))
        self.lamp_letters = [self.add(Letters(phase, palette.PAPER, 20, ground=palette.INK)) for phase in PHASES]
        for letters, place in zip(self.lamp_letters, LAMPS_AT):
            letters.put(place + [0.0, 1.1 * LAMP, 0.0])
        self.field = self.add(Arrow("B", palette.FIELD, 0.0062))
        self.motion = self.add(Arrow("v", palette.MOTION, 0.0062))
        self.hand = self.add(FlemingHand("right", 0.075, ("v", "B", "E"), (palette.MOTION, palette.FIELD, palette.EMF)))

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
        for coil, lead, colour in zip(self.machine.coils, self.cords, colours):
            coil.colour(colour)
            lead.colour(colour)
        for letters, phase in zip(self.machine.letters, self.machine.phases):
            letters.paint(inks[phase], colours[phase])
        for letters, ink, colour in zip(self.lamp_letters, inks, colours):
            letters.paint(ink, colour)

    def light(self, connected, shares) -> None:
        """Which of the three lamps are connected, and with what share of full brightness each glows."""
        self.rack.visible = any(connected)
        for lamp, lead, letters, there, share in zip(self.lamps, self.cords, self.lamp_letters, connected, shares):
            lamp.socket.visible = lamp.bulb.visible = lead.visible = letters.visible = bool(there)
            lamp.glow(share)

    def point_out(self, place, field, motion, hand) -> None:
        """Field and motion, in metres to draw, at one coil side, and the right hand that goes with them or None."""
        self.field.put(place, field)
        self.motion.put(place, motion)
        self.hand.put(HAND_AT, hand)


class Machine(Group):
    """Stator and magnet wheel of one number of poles."""

    def __init__(self, shape: StatorShape, poles: int, angles, coils):
        super().__init__()
        self.shape, self.poles, self.angles = shape, poles, np.asarray(angles, float)
        pitch = 2 * np.pi / len(self.angles)
        self.iron = self.add(Solid(_iron(shape, self.angles, pitch)))
        self.iron.put((0, 0, 0))
        self.coils = [self.add(Solid(_coils(shape, self.angles, pitch, k, [coil[1:] for coil in coils if coil[0] == k]))) for k in range(3)]
        for drawn in self.coils:
            drawn.put((0, 0, 0))
        self.phases, belts = np.zeros(len(self.angles), int), [""] * len(self.angles)
        for phase, go, back in coils:
            self.phases[[go, back]] = phase
            belts[go], belts[back] = f"+{PHASES[phase]}", f"\N{MINUS SIGN}{PHASES[phase]}" if poles < 6 else ""  # no room for all
        self.mark_radius = 0.47 * min(SLOT_SHARE * pitch * shape.slot_middle, shape.slot_bottom - shape.bore)
        self.marks = [self.add(CurrentMark(shape.half_length + 0.011)) for _ in self.angles]
        self.letters = [self.add(Letters(belt, palette.PAPER, 20 if poles < 6 else 17, ground=palette.INK)) for belt in belts]
        self.wheel = self.add(Solid(_wheel(shape, poles)))
        self.pole_letters = [
            self.add(Letters(letter, palette.PAPER, 24 if poles < 6 else 19, ground=colour))
            for _ in range(poles // 2) for letter, colour in (("N", palette.NORTH), ("S", palette.SOUTH))
        ]

    def wind(self, shown) -> None:
        """Which of the three phases' coils lie in their slots."""
        for coil, there in zip(self.coils, shown):
            coil.visible = bool(there)
        for letters, mark, phase in zip(self.letters, self.marks, self.phases):
            mark.visible = bool(shown[phase])
            letters.visible = bool(shown[phase] and letters.text)

    def seen_from(self, side: float) -> None:
        """Put the letters at the end at +z for a `side` of 1, at the other for -1."""
        for letters, angle in zip(self.letters, self.angles):
            letters.put(polar(self.shape.outside + 0.011, angle, side * self.shape.half_length))

    def drive(self, shares) -> None:
        """What the slots' EMF drives toward +z, each as a share of the largest."""
        for mark, angle, share in zip(self.marks, self.angles, shares):
            mark.put(polar(self.shape.slot_middle, angle), self.mark_radius, float(share))

    def turn(self, north: float, side: float, magnetic: bool) -> None:
        """Turn the wheel until the middle of a north pole stands at the angle `north`; letters at the end of that side,
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


def _coils(shape: StatorShape, angles, pitch: float, phase: int, coils):
    """The coils of one phase, white: bars in their slots and the turns from slot to slot at both ends."""
    half, out = SLOT_SHARE * pitch / 2 * 0.9, shape.half_length + 0.008
    thickness = min(0.009, 0.9 * SLOT_SHARE * pitch * shape.slot_middle)
    parts = []
    for go, back in coils:
        parts += [
            ring_part(shape.bore + 0.001, shape.slot_bottom - 0.0005, angles[slot] - half, angles[slot] + half, -out, out, WHITE)
            for slot in (go, back)
        ]
        span = (angles[go] - angles[back]) % (2 * np.pi)
        for end in (1.0, -1.0):
            z = end * (shape.half_length + 0.005 + 0.009 * phase)
            inner = shape.slot_bottom - 0.002
            arc = [polar(END_TURNS, angles[go] - part * span, z) for part in np.linspace(0, 1, max(5, int(span / 0.15)))]
            parts.append(cord([polar(inner, angles[go], end * out * 0.9), *arc, polar(inner, angles[back], end * out * 0.9)], thickness, WHITE, 8))
    return joined(*parts)


def _wheel(shape: StatorShape, poles: int):
    """The magnet wheel, the middle of a north pole at angle 0, on its shaft."""
    pitch = 2 * np.pi / poles
    faces = [
        ring_part(0.030, WHEEL, (k - 0.39) * pitch, (k + 0.39) * pitch, -shape.half_length, shape.half_length,
                  palette.SOUTH if k % 2 else palette.NORTH)
        for k in range(poles)
    ]
    return joined(
        *faces, ring_part(0.006, 0.031, 0, 2 * np.pi, -shape.half_length + 0.002, shape.half_length - 0.002, palette.STEEL),
        rod([0, 0, -0.085], [0, 0, 0.095], 0.007, palette.STEEL, 14), block([0.006, 0, 0.085], [0.004, 0.004, 0.02], palette.SLATE),
    )


def _stand():
    """Board and feet."""
    return joined(
        block([0.0, FLOOR - 0.006, 0], [0.40, 0.012, 0.2], palette.WOOD),
        *[block([side * 0.06, (FLOOR - 0.082) / 2, 0], [0.03, -0.082 - FLOOR, 0.05], palette.SLATE) for side in (-1, 1)],
    )


def _rack():
    """Post and shelves for the lamps."""
    x, top, _ = LAMPS_AT[0]
    return joined(
        block([x + 0.031, (FLOOR + top) / 2, 0], [0.006, top - FLOOR, 0.03], palette.SLATE),
        *[block([x + 0.004, y - 0.002, 0], [0.06, 0.004, 0.036], palette.SLATE) for _, y, _ in LAMPS_AT[:2]],
    )


def _lead(phase: int):
    """From the stator to the lamp of a phase, white."""
    end = LAMPS_AT[phase] + LAMP * np.array([-0.4, 0.3, 0])
    z = -0.02 + 0.02 * phase
    return cord([[0.088, end[1] * 0.45, z], [0.108, end[1] * 0.6, z], end + [-0.018, -0.006, 0], end], 0.0042, WHITE)
