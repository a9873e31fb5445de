"""What lies wrong in a winding, and what is pressed next: to take a wrong coil out, or to lay the next one."""

from __future__ import annotations

from itertools import combinations

from physics.windings import LaidWinding
from physics.windings.coils_in_slots import PHASES, CoilsInSlots
from physics.windings.laid import wrong_coils, wrong_phases
from scenes.machines.laying_the_winding.plans import ends, with_pressed
from scenes.machines.laying_the_winding.snapshot import Setup

BY_HAND = "Press the slot where the coil starts, then the one where it ends."


def wrong_words(winding: LaidWinding) -> str:
    """What lies wrong, such as "V laid the wrong way round"; "" where nothing does."""
    sides, planned = _sides(winding), _sides(winding.plan)
    wrong, parts, others = wrong_phases(winding), [], []
    for one, other in combinations(wrong, 2):
        if len(wrong) == 2 and sides[one] == planned[other] and sides[other] == planned[one]:
            return f"{one} and {other} laid in each other's place"
    for phase in wrong:
        if set(sides[phase]) <= set(planned[phase]):
            turned = sum(sign != planned[phase][place] for place, sign in sides[phase].items()) // 2
            whole = turned == winding.plan.coils_per_phase
            coils = phase if whole else f"one coil of {phase}" if turned == 1 else f"{turned} coils of {phase}"
            parts.append(f"{coils} laid the wrong way round")
        else:
            others.append(phase)
    return ", ".join([*parts, *([f"{' and '.join(others)} laid wrong"] if others else [])])


def _sides(winding: CoilsInSlots) -> dict[str, dict[tuple[int, int], int]]:
    """Of each phase where its coil sides lie, slot and layer, and which way its positive current goes there."""
    found: dict[str, dict[tuple[int, int], int]] = {phase: {} for phase in PHASES}
    for side in winding.slot_table:
        found[side.phase][side.slot, side.layer] = side.sign
    return found


def to_press(setup: Setup, reveals_answer: bool) -> str:
    """What is pressed next, in one or two sentences; "" where all coils lie right."""
    winding = setup.winding
    if not reveals_answer:
        return "" if winding.whole else BY_HAND
    said = [_to_take_out(setup)] if wrong_coils(winding) else []
    coil = None if winding.whole else winding.next_right(setup.next_phase)
    if coil is not None:
        start, finish = ends(coil)
        said.append(f"Press slot {start + 1}, then slot {finish + 1}; or Lay next coil.")
    return " ".join(said)


def _to_take_out(setup: Setup) -> str:
    """How a wrong coil comes out: by its two slots, unless another coil lies in the same two or would be laid there."""
    winding = setup.winding
    for number in wrong_coils(winding):
        start, finish = ends(winding.coils[number])
        try:
            left = with_pressed(setup.plan, setup.text, setup.next_phase, start + 1, finish + 1)
        except ValueError:
            continue
        if left == winding.without_coil(number):
            return f"To take a wrong coil out, press its two slots again: slot {start + 1}, then slot {finish + 1}."
    return "Take last out takes out the coil that was laid last."
