"""The leads of a winding at the non-drive end: from the ends of each phase to the terminal board, and from coil to coil.

They lie on the end windings as rings of cords, each in a lane of its own: outward close to the coils, round in the middle, out to the
board behind. `swapped` coils have their two ends changed over.
"""

from __future__ import annotations

import numpy as np

from visual.apparatus.wiring import cord
from visual.machines.stator import StatorShape, polar
from visual.machines.winding.coils import OVERHANG, CoilPlace
from visual.solid.mesh import joined
from visual.solid.solids import Group, Solid
from visual.solid.told import Told, point

THICK, LANE = 0.0032, 0.0040  # m
WHITE = (1.0, 1.0, 1.0)
OUTWARD, ROUND, AWAY = 0.0035, 0.0075, 0.0115  # m behind the sides of the coils
OUT_AT = 0.52  # rad, where the leads go out to the board


class CoilLeads(Group):
    """For each phase its leads, as wound and with its first coil `swapped`. studs: by marking, the places of the terminals."""

    def __init__(self, shape: StatorShape, coils: list[CoilPlace], studs: dict, phases=("U", "V", "W")):
        super().__init__()
        self.phases = phases
        self._told: dict[tuple[int, bool], list] = {}
        self.drawn: dict[tuple[int, bool], Solid] = {}
        for phase, name in enumerate(phases):
            own = [coil for coil in coils if coil.phase == phase]
            for swapped in (False, True):
                joints = _joints(own, swapped)
                start, end = joints[0][1], joints[-1][0]
                lines = {
                    f"lead from {name}1 to the coil side at {_degrees(start)}": _to_stud(shape, start, studs[f"{name}1"], 2 * phase),
                    f"lead from {name}2 to the coil side at {_degrees(end)}": _to_stud(shape, end, studs[f"{name}2"], 2 * phase + 1),
                }
                for before, after in joints[1:-1]:
                    words = f"lead of {name} from the coil side at {_degrees(before)} to that at {_degrees(after)}"
                    lines[words] = _between(shape, before, after, phase)
                solid = self.drawn[phase, swapped] = self.add(Solid(joined(*[cord(line, THICK, WHITE, 4) for line in lines.values()])))
                solid.put((0, 0, 0))
                self._told[phase, swapped] = [(words, point(line[0])) for words, line in lines.items()]

    def colour(self, colours) -> None:
        for (phase, _), solid in self.drawn.items():
            solid.colour(colours[phase])

    def show(self, phase: int | None, swapped: set[int]) -> None:
        """Those of one phase, or of all; `swapped`: phases whose first coil is the other way round."""
        for (each, way), solid in self.drawn.items():
            solid.visible = self.visible and phase in (None, each) and way == (each in swapped)

    def connect(self, phases) -> None:
        """As wound, the leads of those phases whose entry is true."""
        for (each, way), solid in self.drawn.items():
            solid.visible = self.visible and phases[each] and not way

    def tell(self, found: Told) -> None:
        """Where each lead ends: on a terminal, and at the angle of a coil side."""
        for key, solid in self.drawn.items():
            found.marks.extend((words, place, -1) for words, place in (self._told[key] if solid.visible else ()))


class Tails(Group):
    """The six ends of a winding, bound to the end windings at the rear, from there to the board; colours of the phases by number."""

    def __init__(self, shape: StatorShape, studs: dict, phases=("U", "V", "W")):
        super().__init__()
        self.drawn = []
        for phase, name in enumerate(phases):
            ends = [_to_stud(shape, OUT_AT + 0.05 * (2 * phase + k), studs[f"{name}{k + 1}"], 2 * phase + k) for k in (0, 1)]
            solid = self.add(Solid(joined(*[cord(line, THICK, WHITE, 4) for line in ends])))
            solid.put((0, 0, 0))
            self.drawn.append(solid)

    def colour(self, colours) -> None:
        for solid, colour in zip(self.drawn, colours, strict=True):
            solid.colour(colour)


def _degrees(angle: float) -> str:
    return f"{np.degrees(angle) % 360:.1f}°"


def _joints(coils: list[CoilPlace], swapped: bool) -> list[tuple]:
    """(end before, start after) at each joint along a phase: None before the first coil and after the last."""
    ends = [(coil.back, coil.go) if swapped and k == 0 else (coil.go, coil.back) for k, coil in enumerate(coils)]
    starts, finishes = [start for start, _ in ends], [finish for _, finish in ends]
    return list(zip([None, *finishes], [*starts, None], strict=True))


def _lane(shape: StatorShape, lane: float) -> float:
    return shape.slot_bottom + 0.001 + LANE * lane


def _to_stud(shape: StatorShape, angle: float, stud, lane: int) -> np.ndarray:
    """From the coil side at the angle `angle` round to the board and to its terminal, from behind."""
    rear, radius = -(shape.half_length + OVERHANG), _lane(shape, lane)
    out_at = OUT_AT + 0.05 * (2.5 - lane)
    arc = [polar(radius, each, rear - ROUND) for each in _arc(angle, out_at)]
    out = polar(shape.outside + 0.010, out_at, rear - AWAY)
    x, y, z = (float(part) for part in stud)
    level = y + (0.012 if y < 0.05 else -0.010)  # beside its own row, clear of the other
    behind = z - 0.014 - 0.003 * (lane % 3)
    start = [polar(shape.slot_middle, angle, rear), polar(shape.slot_middle, angle, rear - OUTWARD), polar(radius, angle, rear - OUTWARD)]
    end = [polar(radius, out_at, rear - AWAY), out, [0.128, level, behind], [x, level, behind], [x, y, behind], [x, y, z - 0.004]]
    return np.array([*start, *arc, *end])


def _between(shape: StatorShape, first: float, second: float, phase: int) -> np.ndarray:
    """From one coil side to another of the same phase."""
    rear, radius = -(shape.half_length + OVERHANG), _lane(shape, 2 * phase + 0.5)
    arc = [polar(radius, each, rear - OUTWARD - 0.001) for each in _arc(first, second)]
    ends = [[polar(shape.slot_middle, angle, rear), polar(shape.slot_middle, angle, rear - 0.002)] for angle in (first, second)]
    return np.array([*ends[0], *arc, *ends[1][::-1]])


def _arc(start: float, end: float) -> np.ndarray:
    """Angles from one to the other, the shorter way round."""
    way = (end - start + np.pi) % (2 * np.pi) - np.pi
    return start + way * np.linspace(0, 1, max(3, int(abs(way) / 0.6) + 2))
