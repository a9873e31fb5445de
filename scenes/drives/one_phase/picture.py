"""A motor on one phase: what is made once, and what flows, turns and pulls at one instant."""

from __future__ import annotations

import math

import numpy as np

from physics.terminals import STUDS
from scenes.drives.one_phase.motors import FARAD, MAIN_ALONE, RUN_CAPACITOR, START_CAPACITOR, SYNCHRONOUS, Feed, rated
from scenes.drives.one_phase.snapshot import Snapshot
from scenes.scene.story import Look
from visual.one_phase.circuit import OPEN, RUN, START, SinglePhaseCircuit
from visual.one_phase.machine import BACKWARD, FORWARD, SUM, OnePhaseMachine
from visual.solid.solids import Group
from visual.terminal_box.circuit import WindingCircuit

METRES_PER_TESLA = 0.065
FULL_TORQUE, FULL_CURRENT = 2.5, 1.6  # of rated, the longest arrow; of the rated peak, the largest mark
SHEET, SIZE = (0.262, 0.004, 0.0), (0.276, 0.196)
THREE_AT = (0.262, 0.01, 0.0)
BRANCH = {RUN_CAPACITOR: RUN, START_CAPACITOR: START, MAIN_ALONE: OPEN}


class Drawn(Group):
    """The machine, and beside it the circuit of three windings or of two."""

    def __init__(self):
        super().__init__()
        self.machine = self.add(OnePhaseMachine(METRES_PER_TESLA))
        self.three = self.add(WindingCircuit(THREE_AT, SIZE))
        self.single = self.add(SinglePhaseCircuit(SHEET, SIZE))


def build(host) -> Drawn:
    drawn = Drawn()
    host.name("one-phase-rotor", drawn.machine.rotor.drawn)
    for name, letter in (("forward", FORWARD), ("backward", BACKWARD), ("sum", SUM)):
        host.name(f"one-phase-{name}", drawn.machine.arrows[letter].shaft.drawn)
    host.name("one-phase-path", drawn.machine.path.solid.drawn)
    host.name("one-phase-contact", drawn.single.contact_made.drawn)
    host.name("one-phase-torque", drawn.machine.torque.head.drawn)
    return drawn


def place(drawn: Drawn, now: Snapshot, look: Look) -> None:
    feed, side, shown = now.setup.feed, look.view.side, look.reveals_answer
    torque, amperes = rated(feed.motor)
    machine, running = drawn.machine, now.running
    machine.visible = drawn.visible and look.view.name != "circuit"  # from near, the circuit alone
    full = FULL_CURRENT * math.sqrt(2) * amperes / (1 if running.letters == "UZ" else math.sqrt(3) if feed.motor == "delta" else 1)
    machine.carry(running.letters, {letter: flows / full for letter, flows in zip(running.letters, now.flowing, strict=True)}, side)
    machine.turn(now.rotor_angle, side)
    clockwise, counter = (
        size * np.array([math.cos(angle), math.sin(angle)])
        for size, angle in zip(now.sizes, (now.forward_angle, now.backward_angle), strict=True)
    )
    machine.show_fields(clockwise, counter, now.field, shown, side)
    machine.show_shaft(-now.torque * shown, FULL_TORQUE * torque, 60 * now.speed * shown, 60 * SYNCHRONOUS, side)
    drawn.three.visible, drawn.single.visible = drawn.visible and feed.three_phase, drawn.visible and not feed.three_phase
    if feed.three_phase:
        drawn.three.draw(feed.links, feed.leads, _nodes(feed), _figures(now, look))
    else:
        closed = feed.motor == RUN_CAPACITOR or feed.motor == START_CAPACITOR and now.state.starting
        lines = list(_figures(now, look).items())
        words = [f"{letter} {figure}" for letter, figure in lines]
        drawn.single.draw(BRANCH[feed.motor], closed, feed.reversed_main, feed.reversed_auxiliary, words + _of_capacitor(now, look))


def scales(now: Snapshot) -> dict[str, str]:
    return dict.fromkeys((SUM, FORWARD, BACKWARD), f"10 mm is {0.01 / METRES_PER_TESLA:.2f} T")


def _nodes(feed: Feed) -> dict[str, int]:
    """Of each end of a winding the number of what links join it to."""
    node = {stud: number for number, stud in enumerate(STUDS)}
    for first, second in feed.links:
        node = {stud: node[first] if number == node[second] else number for stud, number in node.items()}
    return node


def _figures(now: Snapshot, look: Look) -> dict[str, str]:
    """Voltage and current of each winding, while they may be seen."""
    if not look.reveals_answer or not now.live:
        return {}
    running = now.running
    return {
        letter: f"{abs(volts):.0f} V, {abs(amperes):.1f} A"
        for letter, volts, amperes in zip(running.letters, running.voltages, running.currents, strict=True)
    }


def _of_capacitor(now: Snapshot, look: Look) -> list[str]:
    feed = now.setup.feed
    if feed.motor not in FARAD:
        return []
    shown = look.reveals_answer and now.live
    volts = f", {abs(now.running.capacitor):.0f} V" if shown else ""
    if now.state.charge and look.reveals_answer:
        volts = f", {now.state.charge:.0f} V kept"
    return [f"C {1e6 * FARAD[feed.motor]:g} µF{volts}"]
