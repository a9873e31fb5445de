"""The windings that show the rotating field, one for each number of poles."""

from __future__ import annotations

from functools import lru_cache

import numpy as np

from physics.supply.supplies import ThreePhaseSupply, instantaneous
from physics.windings import LaidWinding, Winding
from physics.windings.bore_lines import field_at_the_wall
from scenes.machines.laying_the_winding.mistakes import wrong_words
from scenes.machines.laying_the_winding.plans import laid_of
from scenes.scene.controls import Choice
from visual.machines.stator import StatorShape

USUAL = "usual"
SLOTS = {2: 12, 4: 12, 6: 18, 8: 24}
TURNS_OF_A_POLE = 40  # of one phase: in two coils with two poles, otherwise in one
FULL = 20.0  # A, peak, for a full-size slot mark and the longest arrow
SHAPE = StatorShape()
PLOTTED = np.radians(np.arange(0, 361, 5))


@lru_cache(maxsize=4)
def winding_of(poles: int) -> Winding:
    """The winding shown for that number of poles, always with the same turns per pole."""
    slots = SLOTS[poles]
    coils_of_a_pole_pair = slots // (3 * poles)
    return Winding(slots, poles, TURNS_OF_A_POLE // coils_of_a_pole_pair)


@lru_cache(maxsize=16)
def connected(wound: Winding | LaidWinding, backwards: str | None):
    """The winding as it is connected: with the first coil of that phase `backwards`, if any."""
    if backwards is None:
        return wound
    return wound.with_coil_reversed(next(number for number, coil in enumerate(wound.coils) if coil.phase == backwards))


def largest(poles: int) -> tuple[float, float]:
    """Field at the wall, T, and MMF on a tooth, A, that the whole usual winding makes with the largest current."""
    return largest_of(winding_of(poles))


@lru_cache(maxsize=16)
def largest_of(wound: Winding | LaidWinding) -> tuple[float, float]:
    """The same of any winding; of one laid by hand, as it is meant to be."""
    plan = wound.plan if isinstance(wound, LaidWinding) else wound
    each = instantaneous(ThreePhaseSupply(np.sqrt(1.5) * FULL, 50.0).phase_phasors, PLOTTED) / wound.paths
    field = float(field_at_the_wall(plan.fundamental_amplitude(each[0]), plan.pole_pairs, SHAPE.bore))
    return field, float(np.abs(plan.mmf(tooth_angles(plan), each)).max())


class WoundByHand(Choice):
    """The control of the winding: the usual one for the number of poles, or one that was laid coil by coil, as its text."""

    def checked(self, value) -> str:
        if str(value) == USUAL:
            return USUAL
        wound_by_hand(str(value))
        return str(value)


@lru_cache(maxsize=16)
def wound_by_hand(text: str) -> LaidWinding:
    """The winding of that text; `ValueError` unless all its coils are laid."""
    winding = laid_of(text)
    if not winding.whole:
        raise ValueError("wound takes a winding of which all coils are laid.")
    return winding


def as_laid(winding: LaidWinding) -> str:
    """What lies wrong in a winding laid by hand, or that nothing does."""
    return wrong_words(winding) or "laid right"


def tooth_angles(winding) -> np.ndarray:
    """Mechanical angle of the tooth clockwise from each slot."""
    return winding.slot_angles - np.pi / winding.slots


def groups_of(winding, wound=None) -> list[str]:
    """Phase of each slot with the sign of its positive current toward the drive end, as connected; "!" where it differs from `wound`."""
    sides, as_wound = winding.slot_table, (wound or winding).slot_table
    return [
        f"{'+' if side.sign > 0 else chr(0x2212)}{side.phase}{' !' if side.sign != right.sign else ''}"
        for side, right in zip(sides, as_wound, strict=True)
    ]
