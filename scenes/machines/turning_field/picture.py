"""The rotating field on the bench: what is made once, and where everything is at one instant."""

from __future__ import annotations

from typing import NamedTuple

import numpy as np

from physics.windings import LaidWinding
from physics.windings.bore_lines import wave_lines
from physics.windings.coils_in_slots import PHASES
from scenes.machines.turning_field.snapshot import Snapshot
from scenes.machines.turning_field.windings import (
    FULL,
    SHAPE,
    SLOTS,
    TURNS_OF_A_POLE,
    groups_of,
    largest,
    largest_of,
    tooth_angles,
    winding_of,
)
from scenes.scene import phases
from scenes.scene.story import Look
from visual.machines.bore_field import MmfRing
from visual.machines.field_machine import FieldMachine
from visual.machines.motor_iron import stand
from visual.machines.stator import slotted_iron
from visual.machines.winding.coil_leads import Tails
from visual.machines.winding.coils import CoilPlace, FlowMarks
from visual.machines.winding.laid_stator import LaidStator
from visual.solid.solids import Group
from visual.switchgear.motor_wiring import Fuses, Joined

LINE_SETS = {2: 4, 4: 3, 6: 2, 8: 2}  # in how many strengths the flux lines are drawn
LINE_POINTS = {2: 15, 4: 11, 6: 9, 8: 8}
MILLI = 1000


class LaidDrawn(NamedTuple):
    """A winding laid by hand: its stator, the ring of its MMF, and the marks that flow along its coils, by the slot of the first side."""

    stator: LaidStator
    ring: MmfRing
    flow: FlowMarks


class FieldDrawn(Group):
    """A stator for each number of poles, one of them in sight, and how it is wired."""

    def __init__(self):
        super().__init__()
        ends = [f"{phase}1" for phase in PHASES], [f"{phase}2" for phase in PHASES]
        # the three ends of the star point in their order on a terminal board: W2 U2 V2
        self.wiring = self.add(Fuses([*ends[0], "W2", "U2", "V2"], list(zip(*ends, strict=True)), linked=(3, 4, 5)))
        studs = {stud.marking: stud.at for stud in self.wiring.studs}
        self.machines = {poles: self.add(machine_of(poles, studs)) for poles in SLOTS}
        self.tails = self.add(Tails(SHAPE, studs))
        self.laid: dict[tuple, LaidDrawn] = {}

    def show(self, poles: int) -> FieldMachine:
        """Show the stator with that number of poles, and hide the others."""
        for number, machine in self.machines.items():
            machine.visible = self.visible and number == poles
        return self.machines[poles]

    def show_laid(self, winding: LaidWinding | None) -> LaidDrawn | None:
        """Show the stator and the MMF of a winding laid by hand, made when they are first wanted; of None, neither."""
        key = () if winding is None else (winding.slots, winding.plan.span, winding.layers, winding.first_slot_angle)
        if winding is not None and key not in self.laid:
            angles = winding.slot_angles
            foot = stand(SHAPE, slotted_iron(SHAPE, angles, 2 * np.pi / winding.slots), -SHAPE.outside - 0.013)
            span = 2 * np.pi / winding.slots * winding.plan.span
            self.laid[key] = LaidDrawn(
                self.add(LaidStator(SHAPE, angles, winding.plan.span, winding.layers, foot)),
                self.add(MmfRing(tooth_angles(winding))),
                self.add(FlowMarks(SHAPE, [CoilPlace(0, float(angle), float(angle) - span) for angle in angles])),
            )
        for each, drawn in self.laid.items():
            drawn.stator.visible = drawn.flow.visible = self.visible and each == key
            if each != key:
                drawn.ring.visible = False
        self.tails.visible = self.visible and winding is not None
        return self.laid.get(key)


def machine_of(poles: int, studs: dict) -> FieldMachine:
    """The drawing of the winding with that number of poles; `studs`: places of the terminals by marking."""
    wound = winding_of(poles)
    sets = [
        wave_lines(poles // 2, SHAPE.bore - 0.004, SHAPE.slot_bottom + 0.001, SHAPE.outside - 0.001, count + 1, LINE_POINTS[poles])
        for count in range(LINE_SETS[poles])
    ]
    phase_numbers = [PHASES.index(side.phase) for side in wound.slot_table]
    field, mmf = largest(poles)
    strands = [(lines.bore, lines.yoke) for lines in sets]
    return FieldMachine(
        shape=SHAPE,
        pole_pairs=poles // 2,
        slot_angles=wound.slot_angles,
        phases=phase_numbers,
        groups=groups_of(wound),
        coils=coils_of(wound),
        studs=studs,
        line_sets=strands,
        full_field=field * MILLI,
        full_mmf=mmf,
    )


def coils_of(winding) -> list[tuple[int, int, int]]:
    """Phase, go slot and return slot of each coil."""
    return [(PHASES.index(coil.phase), coil.go, coil.back) for coil in winding.coils]


def build(host) -> FieldDrawn:
    drawn = FieldDrawn()
    for poles, machine in drawn.machines.items():
        for number, arrow in enumerate(machine.arrows.arrows):
            host.name(f"turning-field-{poles}-{number}", arrow.shaft.drawn)
        for number, mark in enumerate(machine.stator.marks):
            host.name(f"turning-slot-{poles}-{number}", mark.solid.drawn)
        host.name(f"turning-poles-{poles}", machine.poles.solid.drawn)
        for number, conductors in enumerate(machine.stator.conductors):
            host.name(f"turning-{poles}-{PHASES[number]}", conductors.drawn)
        for number, steps in enumerate(zip(*machine.mmf.steps, strict=True)):
            for direction, step in zip(("out", "in"), steps, strict=True):
                host.name(f"turning-mmf-{direction}-{poles}-{number}", step.drawn)
    return drawn


def place(drawn: FieldDrawn, now: Snapshot, look: Look) -> None:
    setup = now.setup
    region = phases.REGIONS[setup.colours]
    of_lines = [phases.LINES.index(line) for line in setup.lines]
    machine = drawn.show(setup.poles)
    machine.stator.visible = machine.visible and setup.laid is None
    field, mmf = largest_of(setup.wound)
    machine.scale(field * MILLI, mmf)
    laid = drawn.show_laid(setup.laid)
    if laid:
        _place_laid(drawn, laid, now, look, [region.colours[n] for n in of_lines], mmf)
    else:
        _place_usual(machine, now, look, region, of_lines)
    machine.put_field(
        peak_angle=now.peak,
        field=now.field * MILLI,
        mmf=now.tooth_mmf,
        rotation=now.rotation,
        picture=setup.picture if look.reveals_answer else "nothing",
        side=look.view.side,
        ring=laid.ring if laid else None,
    )
    drawn.wiring.put(
        Joined(
            studs=tuple(setup.lines.index(line) for line in phases.LINES),
            bars=tuple((n, n) for n, line in enumerate(phases.LINES) if line != setup.lost),
        ),
        region.colours,
    )


def _place_laid(drawn: FieldDrawn, laid: LaidDrawn, now: Snapshot, look: Look, colours, mmf: float) -> None:
    """The coils as they were laid."""
    setup, winding = now.setup, now.setup.wound
    shown = [coil for coil in winding.coils if setup.looked_at in (None, PHASES.index(coil.phase))]
    shown = shown[:1] if setup.one_coil else shown
    laid.stator.lay([(coil.go, coil.phase, colours[PHASES.index(coil.phase)], True) for coil in shown])
    laid.stator.carry(look.reveals_answer * now.slot_currents / (winding.turns * winding.layers * FULL / winding.paths))
    by_slot = np.zeros((2, winding.slots))
    by_slot[:, [coil.go for coil in winding.coils]] = look.reveals_answer * now.coil_currents / FULL, now.coil_charges / FULL
    laid.flow.put(sorted(coil.go for coil in shown), *by_slot)
    drawn.tails.colour(colours)
    laid.ring.full = mmf


def _place_usual(machine: FieldMachine, now: Snapshot, look: Look, region: phases.Region, of_lines: list[int]) -> None:
    setup, winding = now.setup, now.setup.winding
    # while a question waits no slot shows its current: with a phase lost, slots that are empty together would tell that the field pulsates
    full = TURNS_OF_A_POLE / (winding.slots / (3 * setup.poles)) * FULL
    machine.put_coils(
        phase=setup.looked_at,
        one=setup.one_coil,
        swapped=set() if setup.backwards is None else {PHASES.index(setup.backwards)},
        groups=groups_of(winding, winding_of(setup.poles)),
        colours=[region.colours[n] for n in of_lines],
        inks=[region.inks[n] for n in of_lines],
        currents=now.slot_currents * look.reveals_answer / full,
        coil_currents=now.coil_currents * look.reveals_answer / FULL,
        passed=now.coil_charges / FULL,
        side=look.view.side,
    )
