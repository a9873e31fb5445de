"""A stator with its field: slots with their currents, poles, arrows, flux lines and MMF of one number of poles."""

from __future__ import annotations

import numpy as np

from visual.machines.bore_field import FieldArrows, LinesDrawn, MmfRing, PolesDrawn
from visual.machines.stator import StatorDrawn, StatorShape
from visual.solid.solids import Group

LONGEST_ACROSS, LONGEST_OUT = 0.092, 0.044  # m, the arrow of a two-pole field and those of more poles


def longest_field(pole_pairs: int) -> float:
    """Metres of the longest field arrow."""
    return LONGEST_ACROSS if pole_pairs == 1 else LONGEST_OUT


class FieldMachine(Group):
    """Slots at `slot_angles`, rad, each with the number of its phase and the letters of its phase group; flux lines in sets
    of rising number, each of two lists of lines, through the bore and through the yoke. `full_field` and `full_mmf`, in
    whatever units, make the longest arrow, all flux lines and the highest step."""

    def __init__(self, shape: StatorShape, pole_pairs: int, slot_angles, phases, groups, line_sets, full_field: float, full_mmf: float):
        super().__init__()
        self.shape, self.full_field = shape, full_field
        self.stator = self.add(StatorDrawn(shape, slot_angles, phases, groups))
        self.poles = self.add(PolesDrawn(shape, pole_pairs))
        self.arrows = self.add(FieldArrows("B", pole_pairs, longest_field(pole_pairs), full_field))
        self.lines = self.add(LinesDrawn(shape, line_sets))
        self.mmf = self.add(MmfRing(np.asarray(slot_angles) - np.pi / len(slot_angles), full_mmf))

    def put(self, groups, colours, inks, currents, crest, field, mmf, picture, side) -> None:
        """Show one instant: slot currents as shares of the largest, the `field` at its peak at the angle `crest`, the MMF on
        each tooth, `picture` "lines", "mmf" or "nothing", seen from the `side` of +z, 1, or of -z, -1."""
        self.stator.seen_from(side)
        self.stator.label(groups)
        self.stator.colour(colours, inks)
        self.stator.carry(currents)
        known = picture != "nothing"
        share = field / self.full_field
        self.poles.visible = known and share > 0.02
        self.arrows.visible = self.poles.visible and picture == "lines"
        self.lines.visible, self.mmf.visible = known and picture == "lines", known and picture == "mmf"
        self.poles.put(crest, side)
        self.arrows.put(crest, field, 0.008 * side)
        self.lines.put(crest, share)
        self.mmf.put(mmf, 0.9 * self.shape.half_length * side)
