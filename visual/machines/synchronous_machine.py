"""A synchronous motor seen from its end: stator on its lines, a round rotor with its poles, and the angle by which they lie apart.

Angles are counter-clockwise seen from +z; `side` is 1 where one looks from +z and -1 from the other end.
"""

from __future__ import annotations

import math

import numpy as np

from visual import palette
from visual.machines.bore_field import FieldArrows, PolesDrawn
from visual.machines.machine_shapes import ring_part
from visual.machines.motor_iron import StatorIron
from visual.machines.stator import LAMINATIONS, StatorShape, polar, turned
from visual.solid.curved import CurvedArrow
from visual.solid.mesh import Mesh, joined, rod
from visual.solid.solids import Group, Letters, Solid
from visual.switchgear.three_phase import MotorOnLines

STATOR = StatorShape(bore=0.066, slot_bottom=0.067, outside=0.085)
BOX, RAIL = (-0.0255, 0.1055, 0.0), (0.085, 0.1055, 0.0)  # the first of the motor's terminals, and of the supply's
GROUND = -0.115  # m, the height on which it stands
ROTOR, FACE, SHAFT = 0.0612, 0.0565, 0.011  # m: radius of the rotor, where its pole faces begin, and of its shaft
POLE_SHARE = 0.62  # of a pole pitch that is pole face; the rest is winding
COIL_SIDES = 3  # slots between two poles
DAMPER_BARS = 5  # in a pole face
FRONT = STATOR.half_length + 0.004  # m, the ends of the rotor
SHAFT_END = FRONT + 0.012  # m: short, for the arrows stand before it
LONGEST_FIELD = 0.072  # m, the longest of the arrows from the shaft
ARC = 0.049  # m, radius of the load angle's arc
ANGLE_AT = (0.118, -0.02)  # m, where the load angle is written: to the right of the stator, from either end
# of the curved arrows outside: where they begin, rad, on which radius, m, and how far round they go at most, rad
TORQUE, SPEED = (np.pi, 0.0945, 1.1), (-np.pi / 2, 0.1035, 1.1)


class SynchronousDrawn(Group):
    """Stator, lines and, for each of the numbers of `poles`, a rotor and the fields; `full_field` T is drawn as the longest arrow."""

    def __init__(self, poles, full_field: float):
        super().__init__()
        self.add(StatorIron(STATOR, GROUND))
        self.wiring = self.add(MotorOnLines(BOX, RAIL))
        self.rotors = {n: self.add(RotorDrawn(n)) for n in poles}
        self.poles = {n: self.add(PolesDrawn(STATOR, n // 2, letters_at=STATOR.bore + 0.0095)) for n in poles}
        self.fields = {n: self.add(OutwardArrows("B", n // 2, palette.FIELD, full_field, 0.0075)) for n in poles}
        self.rotor_fields = {
            n: self.add(OutwardArrows("B\N{LATIN SUBSCRIPT SMALL LETTER R}", n // 2, palette.EMF, full_field, 0.0055)) for n in poles
        }
        self.arc = self.add(CurvedArrow("", palette.MOTION, ARC, 0.0036, math.pi, stands_for="δ"))
        self.angle = self.add(Letters("", palette.PAPER, 24, ground=palette.MOTION, role="δ"))
        self.torque = self.add(CurvedArrow("T", palette.FORCE, TORQUE[1], 0.0085, TORQUE[2]))
        self.speed = self.add(CurvedArrow("n", palette.MOTION, SPEED[1], 0.007, SPEED[2]))

    def show_field(self, poles: int, peak_angle: float, tesla: float, side: float) -> None:
        """The stator's field: where flux goes outward most, rad, and its peak."""
        for n in self.poles:
            self.poles[n].visible = self.visible and n == poles and tesla > 0.02
            self.fields[n].visible = self.visible and n == poles
        self.poles[poles].put(peak_angle, side)
        self.fields[poles].put(peak_angle, tesla, side * (SHAFT_END + 0.005))

    def show_rotor(self, poles: int, angle: float, tesla: float, damper: bool, side: float) -> None:
        """The rotor with a north pole at that angle, rad, its own field, T, and whether it has a damper cage."""
        for n, rotor in self.rotors.items():
            rotor.visible = self.rotor_fields[n].visible = self.visible and n == poles
        self.rotors[poles].put(angle, tesla > 0.02, damper, side)
        self.rotor_fields[poles].put(angle, tesla, side * (SHAFT_END + 0.0045))

    def show_load_angle(self, poles: int, peak_angle: float, back: float, words: str, side: float) -> None:
        """The arc from the field's axis to that of the rotor, `back` electrical degrees counter-clockwise, with `words`; "" for none."""
        there = bool(words)
        self.angle.visible = self.visible and there
        self.arc.full = 180.0 * poles / 2
        self.arc.put(peak_angle, back if there else 0.0, side * (SHAFT_END + 0.007))
        self.angle.text = words
        self.angle.put((side * ANGLE_AT[0], ANGLE_AT[1], side * STATOR.half_length))

    def show_shaft(self, torque: float, full_torque: float, speed: float, full_speed: float, side: float) -> None:
        """Torque and speed, counter-clockwise positive: curved arrows round the stator at the end of that `side`."""
        self.torque.full, self.speed.full = full_torque, full_speed
        self.torque.put(TORQUE[0], torque, side * STATOR.half_length)
        self.speed.put(SPEED[0], speed, side * STATOR.half_length)


class OutwardArrows(FieldArrows):
    """Field arrows that all begin at the shaft, also with two poles, so that two of them enclose their angle."""

    def __init__(self, letter: str, pole_pairs: int, colour, full: float, thickness: float):
        super().__init__(letter, pole_pairs, LONGEST_FIELD, full)
        for arrow in self.arrows:
            arrow.thickness = thickness
            arrow.shaft.colour(colour)
            arrow.head.colour(colour)
        self.letter.paint(palette.PAPER, colour)

    def put(self, peak_angle: float, size: float, z: float) -> None:
        for k, arrow in enumerate(self.arrows):
            way = polar(1.0, peak_angle + 2 * np.pi * k / self.pole_pairs)
            arrow.put([0.0, 0.0, z], size * way)
        self.letter.visible = self.visible and size > 0.02 * LONGEST_FIELD / self.metres_per_unit
        self.letter.put(polar(0.6 * size * self.metres_per_unit, peak_angle, z))


class RotorDrawn(Group):
    """A round rotor with its winding between the poles; the pole faces are coloured and lettered while it is excited."""

    def __init__(self, poles: int):
        super().__init__()
        self.count = poles
        self.core = self.add(Solid(_core(poles)))
        self.faces = self.add(Solid(_faces(poles, (palette.NORTH, palette.SOUTH))))
        self.plain = self.add(Solid(_faces(poles, (palette.STEEL, palette.STEEL))))
        self.cage = self.add(Solid(_cage(poles)))
        self.letters = [
            self.add(Letters(letter, palette.PAPER, 24 if poles == 2 else 19, ground=colour, role=f"rotor {letter}"))
            for _ in range(poles // 2)
            for letter, colour in (("N", palette.NORTH), ("S", palette.SOUTH))
        ]

    def put(self, angle: float, excited: bool, damper: bool, side: float) -> None:
        """The middle of a north pole at that angle, rad; letters at the end of that `side`."""
        turn = turned(angle)
        for solid in (self.core, self.faces, self.plain, self.cage):
            solid.put((0, 0, 0), turn)
        self.faces.visible, self.plain.visible = self.visible and excited, self.visible and not excited
        self.cage.visible = self.visible and damper
        for place, letters in enumerate(self.letters):
            letters.visible = self.visible and excited
            letters.put(polar(FACE - 0.004, angle + 2 * np.pi * place / self.count, side * (FRONT + 0.003)))


def _core(poles: int) -> Mesh:
    pitch = 2 * np.pi / poles
    gap = (1 - POLE_SHARE) * pitch
    sides = [
        ring_part(FACE - 0.008, ROTOR - 0.001, start, start + 0.7 * gap / COIL_SIDES, -FRONT - 0.005, FRONT + 0.005, palette.COPPER)
        for k in range(poles)
        for start in (k + 0.5 * POLE_SHARE) * pitch + gap * (np.arange(COIL_SIDES) + 0.15) / COIL_SIDES
    ]
    teeth = [
        ring_part(FACE, ROTOR, start, start + 0.3 * gap / COIL_SIDES, -FRONT, FRONT, np.asarray(LAMINATIONS) * 0.85)
        for k in range(poles)
        for start in (k + 0.5 * POLE_SHARE) * pitch + gap * (np.arange(COIL_SIDES + 1) - 0.15) / COIL_SIDES
    ]
    return joined(
        ring_part(SHAFT - 0.001, FACE, 0, 2 * np.pi, -FRONT, FRONT, np.asarray(LAMINATIONS) * 0.85),
        rod([0, 0, -SHAFT_END], [0, 0, SHAFT_END], SHAFT, palette.STEEL, 16),
        *sides,
        *teeth,
    )


def _faces(poles: int, colours) -> Mesh:
    pitch = 2 * np.pi / poles
    half = 0.5 * POLE_SHARE * pitch
    return joined(
        *[
            ring_part(FACE - 0.012, ROTOR, k * pitch - half, k * pitch + half, -FRONT - 0.001, FRONT + 0.001, colours[k % 2])
            for k in range(poles)
        ]
    )


def _cage(poles: int) -> Mesh:
    """Bars in the pole faces and, at both ends, what joins them."""
    pitch = 2 * np.pi / poles
    angles = [(k + POLE_SHARE * (j / (DAMPER_BARS - 1) - 0.5) * 0.86) * pitch for k in range(poles) for j in range(DAMPER_BARS)]
    bars = [
        rod(polar(ROTOR - 0.0035, a, -FRONT - 0.008), polar(ROTOR - 0.0035, a, FRONT + 0.008), 0.0027, palette.BRASS, 8) for a in angles
    ]
    rings = [
        ring_part(ROTOR - 0.0052, ROTOR - 0.0018, 0, 2 * np.pi, z - 0.001, z + 0.001, palette.BRASS)
        for z in (FRONT + 0.0065, -FRONT - 0.0065)
    ]
    return joined(*bars, *rings)
