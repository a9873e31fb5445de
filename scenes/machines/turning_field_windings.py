"""The windings in which the turning field is shown, one for each number of poles, and what is seen of them."""

from __future__ import annotations

from physics.windings import Winding
from physics.windings.bore_lines import wave_lines
from physics.windings.coils_in_slots import PHASES
from visual.machines.field_machine import FieldMachine
from visual.machines.stator import StatorShape

SLOTS = {2: 12, 4: 12, 6: 18, 8: 24}
TURNS_OF_A_POLE = 40  # of one phase, in two coils where there are two poles and else in one
LINE_SETS = {2: 4, 4: 3, 6: 2, 8: 2}  # in how many strengths the flux lines are drawn
LINE_POINTS = {2: 15, 4: 11, 6: 9, 8: 8}
SHAPE = StatorShape()


def winding_of(poles: int) -> Winding:
    """The winding shown for that number of poles, with the same turns a pole for all."""
    slots = SLOTS[poles]
    coils_of_a_pole_pair = slots // (3 * poles)
    return Winding(slots, poles, TURNS_OF_A_POLE // coils_of_a_pole_pair)


def machine_of(poles: int) -> FieldMachine:
    """What is seen of the winding of that number of poles."""
    wound = winding_of(poles)
    sets = [
        wave_lines(poles // 2, SHAPE.bore - 0.004, SHAPE.slot_bottom + 0.001, SHAPE.outside - 0.001, count + 1, LINE_POINTS[poles])
        for count in range(LINE_SETS[poles])
    ]
    phase_numbers = [PHASES.index(side.phase) for side in wound.slot_table]
    return FieldMachine(SHAPE, poles // 2, wound.slot_angles, phase_numbers, belts_of(wound), [(lines.bore, lines.yoke) for lines in sets])


def belts_of(winding, wound=None) -> list[str]:
    """Phase of each slot with the sign of its current toward the drive end, as connected; "!" where that is not as `wound`."""
    sides, as_wound = winding.slot_table, (wound or winding).slot_table
    return [f"{'+' if side.sign > 0 else chr(0x2212)}{side.phase}{' !' if side.sign != right.sign else ''}" for side, right in zip(sides, as_wound)]
