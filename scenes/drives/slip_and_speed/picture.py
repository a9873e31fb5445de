"""The motor that slips on the bench: what is made once, and where everything stands at one instant."""

from __future__ import annotations

import numpy as np

from scenes.drives.slip_and_speed.snapshot import BARS, Snapshot
from scenes.scene import common_controls
from scenes.scene.story import Look
from visual.machines.slip_machine import SlipMachine, longest_field


def build(host) -> SlipMachine:
    machine = SlipMachine(BARS, common_controls.POLES)
    for poles in common_controls.POLES:
        host.name(f"slip-poles-{poles}", machine.poles[poles].solid.drawn)
        host.name(f"slip-field-{poles}", machine.fields[poles].arrows[0].shaft.drawn)
    host.name("slip-rotor", machine.rotor.core.drawn)
    host.name("slip-hand", machine.hand.solid.drawn)
    for number, bar in enumerate(machine.rotor.bars):
        host.name(f"slip-bar-{number}", bar.drawn)
    for number, mark in enumerate(machine.rotor.marks):
        host.name(f"slip-mark-{number}", mark.solid.drawn)
    for name, letters in (("field", machine.field_count), ("rotor", machine.rotor_count), ("laps", machine.lap_count)):
        host.name(f"slip-count-{name}", letters.drawn)
    return machine


def place(machine: SlipMachine, now: Snapshot, look: Look) -> None:
    setup, side, poles = now.setup, look.view.side, now.motor.circuit.poles
    machine.wiring.join(setup.lines)
    # past standstill, or driven hard, a bar carries more than the drawn one has room to show
    machine.show_rotor(now.rotor_angle, np.clip(now.bars, -1.0, 1.0) * look.reveals_answer, side)
    machine.show_field(poles, now.field_angle, now.field, now.motor.rated_field, side)
    machine.show_band(now.field_angle, now.sense, now.laps % 1.0, side)
    field, rotor, laps = now.counted
    machine.show_counts(f"field {field} rev", f"rotor {rotor} rev", f"slip {laps} laps", side)


def scales(now: Snapshot) -> dict[str, str]:
    motor = now.motor
    return {
        "B": f"10 mm is {motor.rated_field * 0.01 / longest_field(motor.circuit.poles):.2f} T",
        "\N{CIRCLED DOT OPERATOR}": "its area is the current, it fills the bar at standstill; so is the bar's brightness",
    }
