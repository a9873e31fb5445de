"""The questions on changing speed: how fast, in which direction, or how much torque."""

from __future__ import annotations

import math

from scenes.drives.changing_speed.motors import FREQUENCY, VOLTAGE, motor_at
from scenes.drives.changing_speed.readings import supply_words
from scenes.drives.changing_speed.snapshot import INVERTER, ONE_WINDING, TWO_WINDINGS, Snapshot
from scenes.scene.common_controls import line_order
from scenes.scene.scene import Question
from scenes.scene.story import Look

WELL_ABOVE = 1.2  # times the rated frequency: below that "as the square" and "in proportion" are too close to ask about


def sentence(now: Snapshot, look: Look) -> str:
    setup, view, rpm = now.setup, look.view, 60 * now.speed
    rotor = f"turns {view.turning(rpm)} at {abs(rpm):.0f} r/min" if abs(rpm) >= 0.5 else "is at standstill"
    return (
        f"Looking at {view.end}, with {setup.poles} poles on {setup.frequency:g} Hz the field rotates {view.turning(setup.sense)} at "
        f"{60 * now.synchronous_speed:.0f} r/min, and the rotor {rotor}."
    )


def question(now: Snapshot, look: Look) -> Question:
    setup = now.setup
    if setup.method == ONE_WINDING:
        return _which_way(now, look)
    if setup.method == INVERTER and setup.frequency >= WELL_ABOVE * FREQUENCY:
        return _how_strong(now)
    right = round(60 * now.synchronous_speed)
    if setup.method == INVERTER:
        asked = f"A 4-pole motor is fed by an inverter at {setup.frequency:g} Hz. How fast does its field rotate?"
        others = [2 * right, round(right / 2), 1500]
        reason = f"In each cycle the field advances one pole pair: {setup.frequency:g} cycles a second over 2 pole pairs are {right} r/min."
    else:
        asked = f"A motor with two tapped windings is connected for {setup.poles} poles and fed with 50 Hz. How fast does its field rotate?"
        others = list(setup.speeds)
        pairs = "1 pole pair" if setup.poles == 2 else f"{setup.poles // 2} pole pairs"
        reason = (
            f"{setup.poles} poles are {pairs}: 50 cycles a second over {setup.poles // 2} are {right} r/min; in this connection it has "
            "no other speed."
        )
    choices = sorted({right, *others})
    return Question(asked, tuple((str(speed), f"{speed} r/min") for speed in choices), str(right), reason)


def _which_way(now: Snapshot, look: Look) -> Question:
    """About one tapped winding: its speed and its direction of rotation."""
    setup, view = now.setup, look.view
    terminals = setup.connection.joined if setup.connection else ()
    joined = f"; {', '.join(terminals)} joined" if terminals else ""
    rotation, speed = view.turning(setup.sense), round(60 * now.synchronous_speed)
    halves = (
        "Supplied at the ends, each phase has its halves in series, all coils alike: 4 poles."
        if setup.poles == 4
        else "Supplied at the taps, each phase has its halves in parallel, one of them reversed: 2 poles."
    )
    order = "".join(terminal[-1] for terminal, _ in sorted(zip(setup.supplied, setup.lines, strict=True), key=lambda pair: pair[1]))
    as_marked = order in "UVWUV"
    by_marking = (
        f"Marked by IEC 60034-8, U-V-W on L1-L2-L3 turns {view.turning(-1.0)} looking at {view.end}, at each speed. "
        f"Here L1-L2-L3 feed {'-'.join(order)}: {'the same order' if as_marked else 'two phases are swapped'}, so {rotation}, "
        f"at {speed} r/min."
    )
    return Question(
        f"One tapped winding on 50 Hz: {supply_words(setup)}{joined}. Looking at {view.end}, how does its field rotate?",
        tuple((f"{each}-{turn}", f"{turn} at {each} r/min") for each in (1500, 3000) for turn in ("clockwise", "counter-clockwise")),
        f"{speed}-{rotation}",
        f"{halves} {by_marking}",
    )


def _how_strong(now: Snapshot) -> Question:
    """About an inverter above base frequency: how much breakdown torque is left."""
    frequency = now.setup.frequency
    times = frequency / FREQUENCY
    share = now.breakdown / float(motor_at(FREQUENCY).breakdown()[1])
    expected = {"same": 1.0, "once": 1 / times, "squared": 1 / times**2}
    answer = min(expected, key=lambda value: abs(math.log(share / expected[value])))
    return Question(
        f"From 50 Hz up the inverter cannot raise its {VOLTAGE:.0f} V. At {frequency:g} Hz, how much of the breakdown torque of 50 Hz is "
        "left?",
        (("same", "about all of it"), *((value, f"about {100 * expected[value]:.0f} %") for value in ("once", "squared"))),
        answer,
        f"Volts per hertz are down to {100 / times:.0f} %, and so is the field; the torque varies roughly as its square. "
        f"The calculation gives {100 * share:.0f} %.",
    )


def random_setup(random) -> dict:
    return {
        "method": random.choice((INVERTER, ONE_WINDING, TWO_WINDINGS)),
        "frequency": float(random.choice((10, 20, 25, 40, 60, 80, 100))),
        "tapped": random.choice(("2", "4")),
        "leads": random.choice(("alike", "alike", "exchanged")),
        "lines": random.choice([value for value, _ in line_order().choices][:3]),
        "joined": random.choice(("2", "4", "6", "12")),
        "load": float(random.choice((0, 20, 40))),
    }
