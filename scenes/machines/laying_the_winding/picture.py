"""The winding that is being laid, on the bench: the stator with its coils, the same unrolled, and the field they make."""

from __future__ import annotations

from functools import lru_cache

import numpy as np

from physics.supply.supplies import instantaneous
from physics.windings.bore_lines import field_at_the_wall
from physics.windings.coils_in_slots import BALANCED, PHASES
from scenes.machines.laying_the_winding.plans import Plan, winding_of
from scenes.machines.laying_the_winding.snapshot import FULL, SHAPE, Setup, Snapshot
from scenes.scene import phases
from scenes.scene.scene import Pick
from scenes.scene.story import Look
from visual import palette
from visual.machines.bore_field import FieldArrows, PolesDrawn
from visual.machines.field_machine import TURNING_SPAN, longest_field
from visual.machines.stator import polar
from visual.machines.winding.joined_coils import JoinedCoils
from visual.machines.winding.laid_stator import LaidStator, numbered_ring, paled
from visual.machines.winding.unrolled import SHEET, MmfOnTeeth, SlotArrows, UnrolledWinding
from visual.solid.curved import CurvedArrow
from visual.solid.solids import Group

MILLI = 1000
MOST = 48  # slots, and coils


class Drawn(Group):
    """Stators and drawings by what is laid in them, made when they are first wanted; the field, the currents and the leads."""

    def __init__(self):
        super().__init__()
        self.stators: dict[tuple, tuple[LaidStator, UnrolledWinding]] = {}
        self.fields = {pairs: self.add(BoreField(pairs)) for pairs in (1, 2, 3, 4)}
        self.mmf = self.add(MmfOnTeeth(MOST))
        self.arrows = self.add(SlotArrows(MOST))
        self.leads = self.add(JoinedCoils(MOST))
        self.laid_as: tuple | None = None

    def show(self, plan: Plan) -> tuple[LaidStator, UnrolledWinding]:
        """The stator and the drawing for that plan, in sight; the others are not."""
        key = plan.slots, plan.winding.span, plan.winding.layers, plan.winding.first_slot_angle
        if key not in self.stators:
            slots, span, layers, _ = key
            angles = plan.winding.slot_angles
            self.stators[key] = (
                self.add(LaidStator(SHAPE, angles, span, layers, numbered_ring(SHAPE, angles))),
                self.add(UnrolledWinding(slots, span, layers)),
            )
        for each, pair in self.stators.items():
            if each != key:
                for part in pair:
                    part.visible = False
        for pairs, field in self.fields.items():
            if pairs != plan.poles // 2:
                field.visible = False
        return self.stators[key]


class BoreField(Group):
    """Poles on the wall of the bore, the field's axis, and which way it rotates."""

    def __init__(self, pairs: int):
        super().__init__()
        self.poles = self.add(PolesDrawn(SHAPE, pairs))
        self.arrows = self.add(FieldArrows("B", pairs, longest_field(pairs)))
        self.turning = self.add(
            CurvedArrow("", palette.FIELD, 0.046, 0.0062, TURNING_SPAN / pairs**0.5, "rotation of the field", steady=True)
        )

    def put(self, peak: float, field: float, full: float, rotation: float) -> None:
        there = field > 0.02 * full
        for part in self.parts:
            part.visible = self.visible and there
        self.arrows.scale(full)
        self.poles.put(peak, 1.0)
        self.arrows.put(peak, field, 0.008)
        self.turning.put(peak + 0.3 / len(self.arrows.arrows) * rotation, rotation, 0.008)


@lru_cache(maxsize=64)
def largest(slots: int, poles: int, kind: str, paths: int) -> tuple[float, float, float]:
    """Field at the wall, mT, MMF on a tooth, A, and current in a slot, A, of the whole winding at the largest current."""
    winding = winding_of(slots, poles, kind)
    each = instantaneous(FULL / np.sqrt(2) * BALANCED, np.radians(np.arange(0, 360, 5))) / paths
    field = float(field_at_the_wall(winding.fundamental_amplitude(each[0]), poles // 2, SHAPE.bore)) * MILLI
    mmf = float(np.abs(winding.mmf(winding.slot_angles - np.pi / slots, each)).max())
    return field, mmf, winding.turns * winding.layers * FULL / paths


def largest_of(plan: Plan) -> tuple[float, float, float]:
    return largest(plan.slots, plan.poles, plan.kind, plan.paths)


def build(host) -> Drawn:
    drawn = Drawn()
    for number, step in enumerate(zip(*drawn.mmf.steps, strict=True)):
        for direction, solid in zip(("out", "in"), step, strict=True):
            host.name(f"laying-mmf-{direction}-{number}", solid.drawn)
    for number, head in enumerate(drawn.arrows.heads):
        host.name(f"laying-current-{number}", head.drawn)
    for pairs, field in drawn.fields.items():
        host.name(f"laying-poles-{pairs}", field.poles.solid.drawn)
    return drawn


def place(drawn: Drawn, now: Snapshot, look: Look) -> None:
    setup, winding = now.setup, now.winding
    pairs, known = setup.plan.poles // 2, look.reveals_answer and now.amplitude > 1e-6
    stator, unrolled = drawn.show(setup.plan)
    _lay(drawn, now, look, stator, unrolled)
    field, mmf, slot_current = largest_of(setup.plan)
    shares = now.slot_currents * look.reveals_answer / slot_current
    stator.carry(shares)
    drawn.arrows.put(shares)
    drawn.fields[pairs].put(now.peak, now.field * MILLI * known, field, now.rotation)
    # slots count clockwise from the first
    places = (winding.first_slot_angle - now.peak - 2 * np.pi * np.arange(pairs) / pairs) / (2 * np.pi) * winding.slots
    drawn.mmf.put(now.tooth_mmf * look.reveals_answer, mmf, places if known and now.field * MILLI > 0.02 * field else ())


def _lay(drawn: Drawn, now: Snapshot, look: Look, stator: LaidStator, unrolled: UnrolledWinding) -> None:
    """What changes with the settings alone: the coils, their leads, and what is seen from near by itself."""
    setup, near = now.setup, look.view.name
    key = (setup.plan, setup.text, setup.bold, setup.colours, setup.current > 0, look.reveals_answer, near, drawn.visible)
    if key == drawn.laid_as:
        return
    drawn.laid_as = key
    colours = phases.REGIONS[setup.colours].colours
    coils = [
        (coil.go, coil.phase, colours[PHASES.index(coil.phase)], _bold(setup, number, coil.phase))
        for number, coil in enumerate(now.winding.coils)
    ]
    stator.lay(coils)
    unrolled.lay(coils)
    stator.visible = drawn.fields[setup.plan.poles // 2].visible = drawn.visible and near != "unrolled"
    for part in (unrolled, drawn.mmf, drawn.arrows, drawn.leads):
        part.visible = drawn.visible and near != "bore"
    shown = [paled(colours[k], setup.bold in ("all", "last", phase)) for k, phase in enumerate(PHASES)]
    drawn.leads.join(_paths(now, unrolled), [k for k in range(3) if setup.phasors[k]] if look.reveals_answer else (), shown)


def _bold(setup: Setup, number: int, phase: str) -> bool:
    last = len(setup.winding.coils) - 1
    return {"all": True, "last": number == last}.get(setup.bold, setup.bold == phase)


def _paths(now: Snapshot, unrolled: UnrolledWinding) -> list:
    """Of each phase its paths, each a list of (number of the coil, from 1, x of the leg by which current enters it, x of the other)."""
    winding = now.winding
    found = []
    for phase in PHASES:
        of_phase = []
        for path in winding.connections(phase):
            legs = []
            for number, start, _ in path:
                first, other = unrolled.ends(winding.coils[number].go)
                legs.append((number + 1, *((first, other) if start == winding.coils[number].go else (other, first))))
            of_phase.append(legs)
        found.append(of_phase)
    return found


def picks(plan: Plan, view: str) -> tuple[Pick, ...]:
    """What may be pressed: the slots, two for a coil; and what is done with one press."""
    slots = plan.slots
    if view == "bore":
        angles = plan.winding.slot_angles
        at = [tuple(polar(SHAPE.slot_middle, float(angle), SHAPE.half_length + 0.02).tolist()) for angle in angles]
    else:
        rows = 1 if slots <= 18 else 2 if slots <= 24 else 4
        at = [(SHEET.slot(slots, k), SHEET.middle - 0.012 * (k % rows - (rows - 1) / 2), SHEET.front) for k in range(slots)]
    return (
        *(Pick(f"slot {k + 1}", f"slot {k + 1}", place) for k, place in enumerate(at)),
        *(Pick(name, words, None, alone=True) for name, words in ALONE),
    )


ALONE = (("next", "Lay next coil"), ("last", "Take last out"), ("bench", "To rotating field"))
