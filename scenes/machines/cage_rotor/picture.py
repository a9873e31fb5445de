"""The cage on the bench: what is made once, and where everything stands at one instant."""

from __future__ import annotations

from scenes.machines.cage_rotor.motor import BARS, LARGEST_FIELD, RPM
from scenes.machines.cage_rotor.snapshot import Snapshot
from scenes.scene import common_controls
from scenes.scene.story import Look
from visual.machines.cage_drawn import LONGEST_FORCE
from visual.machines.cage_machine import FASTEST, SPEED, TORQUE, CageMachine, longest_field


def build(host) -> CageMachine:
    machine = CageMachine(BARS, common_controls.POLES, LARGEST_FIELD)
    for poles in common_controls.POLES:
        host.name(f"cage-poles-{poles}", machine.poles[poles].solid.drawn)
        host.name(f"cage-field-{poles}", machine.fields[poles].arrows[0].shaft.drawn)
    for name, solid in (
        ("reaction", machine.reaction.shaft),
        ("torque", machine.torque.head),
        ("speed", machine.speed.head),
        ("rotor", machine.rotor.core),
        ("right-hand", machine.hands["right"].solid),
        ("left-hand", machine.hands["left"].solid),
    ):
        host.name(f"cage-{name}", solid.drawn)
    for kind, parts in (("mark", machine.rotor.marks), ("force", machine.rotor.forces)):
        for number, part in enumerate(parts):
            host.name(f"cage-{kind}-{number}", part.solid.drawn)
    for number, bar in enumerate(machine.rotor.bars):
        host.name(f"cage-bar-{number}", bar.drawn)
    return machine


def place(machine: CageMachine, now: Snapshot, look: Look) -> None:
    setup, most, state, side = now.setup, now.curves, now.state, look.view.side
    shown, chosen = float(look.reveals_answer), setup.hand != "none"
    machine.wiring.join(setup.lines, through_inverter=setup.stands)
    machine.show_iron(setup.iron)
    machine.rotor.full_current, machine.rotor.full_force = most.most_current, most.most_force
    machine.rotor.put(
        now.moment.rotor_angle, shown * state.current, shown * state.force, now.cage.missing, now.bar.number if chosen else None, side
    )
    machine.show_field(setup.poles, now.peak_angle, now.peak, side)
    machine.show_reaction(now.fed.pole_pairs, now.peak_angle, state.lag, shown * now.rotor_field, most.most_rotor_field, side)
    machine.show_shaft(shown * state.torque, most.most_torque, now.moment.rotor_speed * RPM, abs(now.synchronous) * RPM, side)
    machine.show_hand(hand_of(now, look), now.bar.angle, side)


def hand_of(now: Snapshot, look: Look):
    """The one that was chosen; a mistake is shown of it, or else of the right hand, with which such questions are answered."""
    chosen = now.setup.hand
    if not now.generates or (chosen == "none" and look.reveals_answer):
        return None
    return look.held(now.bar.hand("right" if chosen == "none" else chosen))


def scales(now: Snapshot) -> dict[str, str]:
    most, longest = now.curves, longest_field(now.fed.pole_pairs)
    return {
        "B": f"10 mm is {LARGEST_FIELD * 0.01 / longest:.2f} T",
        "Bᵣ": f"10 mm is {most.most_rotor_field * 0.01 / longest:.2f} T",
        "\N{CIRCLED DOT OPERATOR}": f"its area is the current, {most.most_current:.0f} A when it fills the bar; so is the bar's brightness",
        "F": f"10 mm is {most.most_force * 0.01 / LONGEST_FORCE:.1f} N",
        "T": f"10 mm is {most.most_torque * 0.01 / (TORQUE[1] * TORQUE[2]):.2f} N m",
        "n": f"10 mm is {FASTEST * abs(now.synchronous) * RPM * 0.01 / (SPEED[1] * SPEED[2]):.0f} r/min",
    }
