"""A stator with its winding: laminated core, coils with their end windings, in each slot the dot or cross of its current.

Coils may be looked at phase by phase, or one alone: the slots of the others are then filled in pale.
"""

from __future__ import annotations

from itertools import groupby

import numpy as np

from visual import palette
from visual.machines.motor_iron import stand
from visual.machines.stator import SLOT_SHARE, WHITE, CurrentMark, StatorShape, polar, sector, slotted_iron
from visual.machines.winding.coil_leads import CoilLeads
from visual.machines.winding.coils import OVERHANG, CoilPlace, CoilsDrawn
from visual.solid.mesh import Mesh, joined, repeated
from visual.solid.solids import Group, Letters, Solid

DIM = (0.87, 0.87, 0.84)  # the side of a coil that is not looked at
LETTERS_AT = 0.117  # m from the shaft: clear of the end windings


class StatorDrawn(Group):
    """A stator with a coil side in each slot.

    slot_angles: (slots,) rad, one pitch apart, falling; phases: (slots,) 0, 1 or 2, whose side lies there; groups: the letters at
    each slot; coils: (phase, go slot, return slot) of each coil; pole_pairs: of the winding: letters stand at the first pair; studs:
    places of the terminals by marking.
    """

    def __init__(self, shape: StatorShape, slot_angles, phases, groups, coils, pole_pairs: int, studs: dict):
        super().__init__()
        self.shape, self.angles = shape, np.asarray(slot_angles, float)
        self.phases = np.asarray(phases)
        self.per_pair = len(self.angles) // pole_pairs
        self.coil_slots = [(phase, go, back) for phase, go, back in coils]
        pitch = 2 * np.pi / len(self.angles)
        side = _side(shape, pitch)
        iron = slotted_iron(shape, self.angles, pitch)
        dim = repeated(_side(shape, pitch, 0.92, 0.004).coloured(DIM), self.angles)
        self.iron = self.add(Solid(joined(iron, dim, stand(shape, iron, -shape.outside - 0.013))))
        self.iron.put((0, 0, 0))
        places = [CoilPlace(phase, float(self.angles[go]), float(self.angles[back])) for phase, go, back in coils]
        self.coils = self.add(CoilsDrawn(shape, places, side, iron))
        self.leads = self.add(CoilLeads(shape, places, studs))
        # as large as the slot lets a full current be
        self.mark_radius = 0.47 * min(SLOT_SHARE * pitch * shape.slot_middle, shape.slot_bottom - shape.bore)
        self.marks = [self.add(CurrentMark(shape.half_length + OVERHANG + 0.001)) for _ in self.angles]
        height = 20 if pole_pairs < 3 else 18
        self.letters = [self.add(Letters("", palette.PAPER, height, ground=palette.INK)) for _ in range(self.per_pair)]
        self._groups, self._side = list(groups), 1.0
        self._shown: tuple[int | None, bool] = (None, False)
        self._paint: tuple | None = None
        self._labelled: tuple | None = None
        self._middles = [polar(shape.slot_middle, angle) for angle in self.angles]
        self.look_at(None, False)

    @property
    def conductors(self) -> list[Solid]:
        """What is drawn first of each phase's coils."""
        return self.coils.first

    def look_at(self, phase: int | None, one: bool, swapped=frozenset()) -> None:
        """All coils, or those of one `phase`, or only the first of it; `swapped`: phases whose first coil is the other way round."""
        self._shown = (phase, one)
        self.leads.visible = self.visible and not one
        self.leads.show(phase, swapped)
        self.coils.show(phase, one)

    def seen_from(self, side: float) -> None:
        """Put the letters on the face at +z for a `side` of 1, on the other for -1."""
        self._side = side

    def colour(self, colours, inks) -> None:
        """The colours of the three phases, and what letters on them are written in."""
        paint = tuple(colours), tuple(inks)
        if paint != self._paint:
            self._paint = paint
            self.coils.colour(colours)
            self.leads.colour(colours)

    def label(self, groups) -> None:
        """The letters of the slots: one for each run of neighbours with the same ones, at the first pole pair, on its phase's
        colour."""
        key = (tuple(groups), self._shown, self._side, self._paint, self.visible)
        if key == self._labelled:
            return
        self._groups, self._labelled = list(groups), key
        looked_at = self._looked_at()
        order = range(self.per_pair)
        runs = [(text, list(run)) for text, run in groupby(order, key=lambda slot: self._groups[slot] if slot in looked_at else "")]
        runs = [(text, run) for text, run in runs if text]
        for letters in self.letters[len(runs) :]:
            letters.visible = False
        for letters, (text, run) in zip(self.letters, runs, strict=False):
            letters.visible = self.visible
            letters.text = text
            angle = float(np.mean(self.angles[run]))
            letters.put(polar(LETTERS_AT, angle, self._side * self.shape.half_length))
            if self._paint:
                colours, inks = self._paint
                letters.paint(inks[self.phases[run[0]]], colours[self.phases[run[0]]])

    def _looked_at(self) -> set[int]:
        """The slots of the coils that are looked at."""
        phase, one = self._shown
        coils = [coil for coil in self.coil_slots if phase in (None, coil[0])]
        return {slot for _, go, back in (coils[:1] if one else coils) for slot in (go, back)}

    def carry(self, shares, coil_shares, passed) -> None:
        """Currents of the slots, toward +z positive, as shares of the one that fills a mark; those of the coils along their
        paths, and how far these have flowed, as a share of the most that they do to each side."""
        looked_at = self._looked_at()
        for slot, (mark, middle, share) in enumerate(zip(self.marks, self._middles, shares, strict=True)):
            mark.put(middle, self.mark_radius, float(share) if slot in looked_at else 0.0)
        self.coils.carry(coil_shares, passed)


def _side(shape: StatorShape, pitch: float, share: float = 1.0, out: float = OVERHANG) -> Mesh:
    """A coil side in a slot at angle 0, white, that stands `out` of the iron."""
    half = SLOT_SHARE * pitch / 2 * 0.94 * share
    lost = 0.001 + 0.004 * (1 - share)
    return sector(np.linspace(-half, half, 4), shape.bore + lost, shape.slot_bottom - 0.0005, shape.half_length + out).coloured(WHITE)
