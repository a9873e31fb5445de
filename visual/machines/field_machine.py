"""A stator with its field: slots with their currents, poles, arrows, flux lines and MMF of one number of poles."""

from __future__ import annotations

import numpy as np

from visual import palette
from visual.machines.bore_field import FieldArrows, LinesDrawn, MmfRing, PolesDrawn
from visual.machines.stator import StatorShape
from visual.machines.winding.wound_stator import StatorDrawn
from visual.solid.curved import CurvedArrow
from visual.solid.solids import Group

TURNING_AT, TURNING_SPAN = 0.040, 1.2  # m and rad: the curved arrow from the field's peak on
LONGEST_ACROSS, LONGEST_OUT = 0.092, 0.044  # m, the arrow of a two-pole field and those of more poles


def longest_field(pole_pairs: int) -> float:
    """Metres of the longest field arrow."""
    return LONGEST_ACROSS if pole_pairs == 1 else LONGEST_OUT


class FieldMachine(Group):
    """Slots at `slot_angles`, rad, each with the number of its phase and the letters of its phase group; `coils` as (phase, go
    slot, return slot); `studs`, the terminals' places by marking; flux lines in sets
    of rising number, each of two lists of lines, through the bore and through the yoke. `full_field` and `full_mmf`, in
    whatever units, make the longest arrow, all flux lines and the highest step."""

    def __init__(
        self, shape: StatorShape, pole_pairs: int, slot_angles, phases, groups, coils, studs, line_sets, full_field: float, full_mmf: float
    ):
        super().__init__()
        self.shape, self.full_field = shape, full_field
        self.stator = self.add(StatorDrawn(shape, slot_angles, phases, groups, coils, pole_pairs, studs))
        self.poles = self.add(PolesDrawn(shape, pole_pairs))
        self.arrows = self.add(FieldArrows("B", pole_pairs, longest_field(pole_pairs), full_field))
        span = TURNING_SPAN / pole_pairs**0.5
        self.turning = self.add(CurvedArrow("", palette.FIELD, TURNING_AT, 0.0062, span, "rotation of the field", steady=True))
        self.lines = self.add(LinesDrawn(shape, line_sets))
        self.mmf = self.add(MmfRing(np.asarray(slot_angles) - np.pi / len(slot_angles), full_mmf))

    def put_coils(self, phase, one, swapped, groups, colours, inks, currents, coil_currents, passed, side) -> None:
        """The coils of a `phase` by number, all for None, only the first for `one`, that of the phases `swapped` the other way
        round; currents of slots and coils as shares of the largest, and how far those of the coils have flowed; seen from the
        `side` of +z, 1, or of -z, -1."""
        self.stator.look_at(phase, one, swapped)
        self.stator.seen_from(side)
        self.stator.colour(colours, inks)
        self.stator.label(groups)
        self.stator.carry(currents, coil_currents, passed)

    def scale(self, full_field: float, full_mmf: float) -> None:
        """From now on the longest arrow, all lines and the highest step are for these."""
        self.full_field, self.mmf.full = full_field, full_mmf
        self.arrows.scale(full_field)

    def put_field(self, peak_angle, field, mmf, rotation, picture, side, ring: MmfRing | None = None) -> None:
        """The `field` with its outward peak at `peak_angle`, which way it turns (counter-clockwise above 0), the MMF on each tooth,
        and of them `picture`: "lines", "mmf" or "nothing". `ring`: takes the MMF where it is not of this winding."""
        known = picture != "nothing"
        share = field / self.full_field
        self.poles.visible = known and share > 0.02
        self.arrows.visible = self.poles.visible and picture == "lines"
        self.lines.visible, self.mmf.visible = known and picture == "lines", False
        ring = ring or self.mmf
        ring.visible = known and picture == "mmf"
        self.poles.put(peak_angle, side)
        self.arrows.put(peak_angle, field, 0.008 * side)
        self.turning.visible = self.poles.visible
        self.turning.put(peak_angle + 0.3 / len(self.arrows.arrows) * rotation, rotation, 0.008 * side)
        self.lines.put(peak_angle, share)
        ring.put(mmf, 0.9 * self.shape.half_length * side)
