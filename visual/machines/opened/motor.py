"""A cage motor and a slip-ring motor whose parts can be put anywhere and lit, above a floor on which they throw a shadow.

What both have in common is made once; only what belongs to the motor that is shown is in sight.
"""

from __future__ import annotations

from collections.abc import Mapping

import numpy as np

from visual import palette
from visual.machines.opened import ends, housing, rotors, sizes
from visual.machines.opened.turned import shadow
from visual.solid.mesh import Mesh, block
from visual.solid.solids import Group, Letters, NamedLine, Solid
from visual.solid.told import Told, point

CAGE, SLIP_RING = "cage", "slip-ring"
LIT = np.array((1.0, 0.52, 0.06))
DIMMED, AS_BUILT = (0.80, 0.82, 0.84), (1.0, 1.0, 1.0)
FLOOR, DARK = (0.80, 0.83, 0.84), (0.40, 0.43, 0.45)
AWAY = 0.06  # m from the frame at which a part throws a shadow of its own
# half across and half along of the shadow of each part that throws one of its own
SHADOWS = {
    "frame": (0.21, 0.20), "stator-core": (0.15, 0.13), "drive-shield": (0.15, 0.06), "other-shield": (0.15, 0.06), "cowl": (0.16, 0.09),
    "fan": (0.11, 0.03), "rotor-core": (0.10, 0.17),
}  # fmt: skip


def meshes(motor: str, gap: float) -> dict[str, Mesh]:
    """Every part by its name, where it is when the motor is together; `gap`: m between rotor and bore."""
    behind = sizes.BEHIND if motor == SLIP_RING else 0.0
    bearing = ends.bearing()
    parts = {
        "shaft": rotors.shaft(behind),
        "key": rotors.key(),
        "drive-bearing": bearing.moved([0, 0, sizes.BEARING_AT]),
        "other-bearing": bearing.moved([0, 0, -sizes.BEARING_AT - behind]),
        "drive-shield": ends.drive_end_shield(),
        "frame": housing.frame(),
        "stator-core": housing.stator_core(),
        "stator-winding": housing.stator_winding(),
        "terminal-box": housing.terminal_box(),
        "terminal-board": housing.terminal_board(),
        "box-cover": housing.box_cover(),
        "fan": ends.fan().moved([0, 0, -behind]),
        "cowl": ends.cowl().moved([0, 0, -behind]),
        "nameplate": housing.nameplate(),
        "eye-bolt": housing.eye_bolt(),
    }
    if motor == CAGE:
        return parts | {
            "other-shield": ends.other_end_shield(),
            "rotor-core": rotors.rotor_core(gap),
            "bars": rotors.bars(gap),
            "end-rings": rotors.end_rings(),
        }
    return parts | {
        "other-shield": ends.slip_ring_end_shield(),
        "rotor-core": rotors.wound_core(gap),
        "rotor-winding": rotors.rotor_winding(gap),
        "slip-rings": rotors.slip_rings(),
        "brushes": rotors.brushes(),
        "brush-holders": rotors.brush_holders(),
        "brush-cover": rotors.brush_cover(),
    }


SHIFTED = {"other-bearing", "fan", "cowl"}  # the same in both motors, further from the middle in the longer one
OWN = {"shaft", "other-shield", "rotor-core"}  # of the same name in both, but not alike


class OpenedMotor(Group):
    """The parts of both motors; `gap`: m between rotor and bore. Places of letters by part, those of the motor together."""

    def __init__(self, gap: float, anchors: Mapping[str, tuple[float, float, float]]):
        super().__init__()
        self.anchors = anchors
        self.floor = self.add(Solid(block([0.0, -sizes.SHAFT_HEIGHT - 0.012, 0.0], [3.0, 0.02, 5.0], FLOOR)))
        self.floor.put((0, 0, 0))
        made = {motor: meshes(motor, gap) for motor in (CAGE, SLIP_RING)}
        shared: dict[str, Solid] = {}
        self.solids: dict[str, dict[str, Solid]] = {motor: {} for motor in made}
        for motor, parts in made.items():
            for name, shape in parts.items():
                if name in shared and name not in OWN:
                    self.solids[motor][name] = shared[name]
                    continue
                self.solids[motor][name] = shared[name] = self.add(Solid(shape))
        one = Solid(shadow(FLOOR, DARK))
        self.shadows = {name: self.add(one if k == 0 else one.copy()) for k, name in enumerate(SHADOWS)}
        own = [(name, solid, made[motor][name]) for motor, parts in self.solids.items() for name, solid in parts.items()]
        self.signs = {id(solid): self.add(self._sign(name, solid)) for name, solid, _ in own}
        self._lit = {id(solid): LIT * min(2.2, 0.72 / float(shape.colours.mean())) for _, solid, shape in own}  # dark ones too are seen
        self.balloons = [self.add(Letters(letter, palette.PAPER, 22, ground=palette.INK, role=letter)) for letter in "ABCDE"]
        self.motor, self.lit = CAGE, ""
        self.places: dict[str, np.ndarray] = {}

    def put(self, motor: str, offsets: Mapping[str, np.ndarray], lit: str) -> None:
        """Show that motor, each of its parts moved by its offset from where it is in the motor; the part `lit` is coloured."""
        self.motor, self.lit = motor, lit
        own = self.solids[motor]
        for solid in {id(each): each for parts in self.solids.values() for each in parts.values()}.values():
            solid.visible = self.visible and any(solid is each for each in own.values())
        self.places = {name: np.asarray(offsets[name], float) for name in own}
        behind = np.array([0.0, 0.0, -sizes.BEHIND if motor == SLIP_RING else 0.0])
        for name, solid in own.items():
            solid.put(self.places[name] + (behind if name in SHIFTED else 0.0))
            solid.colour(self._lit[id(solid)] if name == lit else DIMMED if lit else AS_BUILT)
        for k, (name, spot) in enumerate(self.shadows.items()):
            across, along = SHADOWS[name]
            x, _, z = self.places[name] + self._middle(name, motor)
            spot.visible = self.visible and (name == "frame" or abs(self.places[name][2] - self.places["frame"][2]) > AWAY)
            spot.put((x, -sizes.SHAFT_HEIGHT - 0.0015 + 0.0002 * k, z), stretch=(across, 1.0, along))

    def _middle(self, name: str, motor: str) -> np.ndarray:
        behind = sizes.BEHIND if motor == SLIP_RING else 0.0
        at = {
            "drive-shield": 0.17,
            "other-shield": -0.17 - behind / 2,
            "cowl": -0.21 - behind,
            "fan": -0.225 - behind,
        }
        return np.array([0.0, 0.0, at.get(name, 0.0)])

    def anchor(self, name: str) -> np.ndarray:
        """Where a letter points, of a part as it is now."""
        behind = -sizes.BEHIND if self.motor == SLIP_RING and name in SHIFTED else 0.0
        return np.add(self.anchors[name], [0.0, 0.0, behind]) + self.places[name]

    def _sign(self, name: str, solid: Solid) -> Letters:
        """The letters of a part, which stand clear of the motor and point at it."""
        at = point(self.anchors[name])
        return Letters("", palette.PAPER, 19, ground=palette.INK, role="aside", lines=(NamedLine(solid, at, at, 0.001),))

    def name_lit(self, words: str) -> None:
        """What is said of the part that is lit, line by line; nothing for no words."""
        own = self.solids[self.motor].get(self.lit)
        for solid, sign in self.signs.items():
            sign.visible = self.visible and bool(words) and solid == id(own)
            if sign.visible:
                sign.text = words
                sign.put(self.anchor(self.lit))

    def letter(self, parts: list[str]) -> None:
        """A letter, from A on, at each of those parts; none for none."""
        for k, balloon in enumerate(self.balloons):
            balloon.visible = self.visible and k < len(parts)
            if k < len(parts):
                balloon.put(self.anchor(parts[k]))

    def tell(self, found: Told) -> None:
        """Every part of the motor with its place, counted from where it is when the motor is together; the sign is 1 if it is lit."""
        for name, solid in self.solids[self.motor].items():
            if solid.visible:
                shown = solid.drawn.color
                found.marks.append((f"part: {name}", point(self.places[name]), int(shown.x > 2 * shown.z)))
