"""Exercises with numbers: field, force and EMF by their formulae, speeds and slip, an alternator, a nameplate."""

from __future__ import annotations

import math

import numpy as np

from physics import speeds
from physics.directions import direction_words, left_hand, right_hand
from physics.nameplate import Nameplate
from scenes.workings.conductors import conductor_emf, conductor_force, wire_field
from scenes.workings.speeds import rotor_frequency_step, slip_step, synchronous_speed_step
from scenes.workings.writing import Quantity, exact, figure, step
from scenes.worksheet.exercise import (
    IN_THE_PAPER,
    RIGHT,
    TOWARD_YOU,
    UP,
    Accepted,
    Exercise,
    Kind,
    line_of,
    lines_of,
    on_paper,
)
from visual.paper import paper_setups

FREQUENCIES = (50, 60)
POLES = (2, 4, 6, 8)
SIGHT = {1: "out of the paper, toward you (dots)", -1: "into the paper, away from you (crosses)"}
# typical of small cage motors (common practice, no source): kW, rated slip, efficiency, power factor
MOTORS = (
    (0.75, 0.06, 0.79, 0.75), (1.5, 0.05, 0.82, 0.78), (2.2, 0.045, 0.84, 0.8), (4.0, 0.04, 0.86, 0.81),
    (5.5, 0.035, 0.88, 0.82), (7.5, 0.03, 0.885, 0.83), (11.0, 0.027, 0.9, 0.84), (15.0, 0.025, 0.91, 0.85),
    (22.0, 0.02, 0.92, 0.86),
)  # fmt: skip
FORMS = (
    "",
    "f = {} Hz",
    "{} poles",
    "n_s = {} r/min",
    "n = {} r/min",
    "slip {} %",
)  # a row of the table of motors, in words
VOLTS = {50: 400, 60: 460}


def field_of_a_wire(dice) -> Exercise:
    current, distance = dice.randrange(10, 105, 5), dice.randrange(20, 130, 10)
    working = wire_field(current, distance)
    return Exercise(
        f"A long straight wire carries {current} A. How strong is its field {distance} mm from its centre?",
        working.steps[-1].results[0].text,
        lines_of(working),
        accepted=(Accepted(working.steps[-1].results[0]),),
    )


def force_on_a_conductor(dice) -> Exercise:
    sight, across = dice.choice((1, -1)), dice.choice(list(IN_THE_PAPER))
    flux_density, current, length = dice.randrange(10, 125, 5) / 100, dice.randrange(2, 41), dice.randrange(50, 310, 10)
    field, flowing = sight * TOWARD_YOU, IN_THE_PAPER[across]
    hand = left_hand(field, flowing)
    working = conductor_force(flux_density, current, length)

    def drawn(with_force: bool) -> str:
        drawing = paper_setups.in_uniform_field(
            sight, np.abs(on_paper(flowing)), on_paper(flowing), "I", "", "A conductor across a uniform field."
        )
        if with_force:
            drawing.arrow((0, 0), 9 * on_paper(hand.thumb), "F")
        return drawing.svg()

    return Exercise(
        f"A uniform field of {exact(flux_density)} T goes {SIGHT[sight]}. A straight conductor in it, {length} mm "
        f"long, carries {current} A {across}. How large is the force on it, and in which direction?",
        f"{working.steps[-1].results[-1].text}; {direction_words(hand.thumb)}",
        (*lines_of(working), hand.words()),
        drawn(False),
        drawn(True),
        lines=3,
        hand=hand,
        accepted=(Accepted(working.steps[-1].results[-1]),),
    )


def emf_and_its_sign(dice) -> Exercise:
    sight, across = dice.choice((1, -1)), dice.choice(list(IN_THE_PAPER))
    flux_density, speed, length = (
        dice.randrange(10, 125, 5) / 100,
        dice.randrange(5, 105, 5) / 10,
        dice.randrange(50, 310, 10),
    )
    field, motion = sight * TOWARD_YOU, IN_THE_PAPER[across]
    along = UP if motion @ RIGHT else RIGHT
    hand = right_hand(field, motion)
    working = conductor_emf(flux_density, speed, length)
    drawing = paper_setups.in_uniform_field(
        sight,
        on_paper(along),
        on_paper(motion),
        "v",
        "AB",
        "A conductor moving across a uniform field; its ends are A and B.",
    )
    return Exercise(
        f"A uniform field of {exact(flux_density)} T goes {SIGHT[sight]}. A conductor in it, {length} mm long, is "
        f"moved {across} at {exact(speed)} m/s. How large is its EMF, and which end, A or B, is positive?",
        f"{working.steps[-1].results[-1].text}; {'B' if hand.second_finger @ along > 0 else 'A'} is positive",
        (*lines_of(working), hand.words(), "Inside a source current flows toward the positive end."),
        drawing.svg(),
        lines=3,
        hand=hand,
        accepted=(Accepted(working.steps[-1].results[-1]),),
    )  # fmt: skip


def speeds_and_slip(dice) -> Exercise:
    """Three motors; for each, three figures are given and two are to be found."""
    rows, filled, workings = [], [], []
    for number, asked in enumerate(({2, 4}, {1, 3}, {0, 4}), 1):
        frequency, poles, percent = dice.choice(FREQUENCIES), dice.choice(POLES), dice.randrange(2, 8)
        field = 60 * float(speeds.synchronous_speed(frequency, poles))
        rotor = float(speeds.speed_at_slip(field, percent / 100))
        row = [figure(value, 6) for value in (frequency, poles, field, rotor, 100 * float(speeds.slip(field, rotor)))]
        filled.append((str(number), *row))
        rows.append((str(number), *("" if place in asked else cell for place, cell in enumerate(row))))
        workings.append(_how(number, asked, frequency, poles, field, rotor, percent))
    head = ("motor", "f in Hz", "poles", "n_s in r/min", "n in r/min", "slip in %")
    return Exercise(
        "Fill in the missing figures. (n_s is the synchronous speed, n the speed of the rotor.)",
        "; ".join(
            f"motor {row[0]}: " + ", ".join(form.format(cell) for form, cell, given in zip(FORMS, row, asked, strict=True) if not given)
            for row, asked in zip(filled, rows, strict=True)
        ),
        tuple(workings),
        table=(head, *rows),
        filled=(head, *filled),
        lines=2,
    )


def _how(number: int, asked: set[int], frequency, poles, field: float, rotor: float, percent) -> str:
    """The working of one row of the table, for the cells left empty."""
    shown, turned = figure(field, 6), figure(rotor, 6)
    slip = f"s = ({shown} − {turned}) / {shown} = {percent} %"
    found = {
        frozenset({2, 4}): f"n_s = 120 f / poles = 120 × {frequency} / {poles} = {shown} r/min; {slip}",
        frozenset({1, 3}): f"poles = 120 f / n_s = 120 × {frequency} / {shown} = {poles}; "
        f"n = n_s (1 − s) = {shown} × {figure(1 - percent / 100)} = {turned} r/min",
        frozenset({0, 4}): f"f = poles × n_s / 120 = {poles} × {shown} / 120 = {frequency} Hz; {slip}",
    }  # fmt: skip
    return f"Motor {number}: {found[frozenset(asked)]}"


def alternator(dice) -> Exercise:
    frequency, poles = dice.choice((*FREQUENCIES, 400)), dice.choice(POLES)
    per_minute = 60 * float(speeds.synchronous_speed(frequency, poles))
    if dice.random() < 0.5:
        return Exercise(
            f"An alternator has a rotor of {poles} poles. How fast must it be driven to give {frequency} Hz?",
            f"{figure(per_minute)} r/min",
            (f"n = 120 f / poles = 120 × {frequency} / {poles} = {figure(per_minute)} r/min",),
            accepted=(Accepted(Quantity(per_minute, "r/min"), 0.5),),
            case="speed",
        )
    given = float(speeds.frequency_of_speed(per_minute / 60, poles))
    return Exercise(
        f"An alternator has a rotor of {poles} poles and is driven at {figure(per_minute, 6)} r/min. What frequency does it give?",
        f"{figure(given)} Hz",
        (f"f = poles × n / 120 = {poles} × {figure(per_minute, 6)} / 120 = {figure(given)} Hz",),
        accepted=(Accepted(Quantity(given, "Hz"), 0.5),),
        case="frequency",
    )


def nameplate(dice) -> Exercise:
    plate = _plate(dice)
    per_minute = round(60 * plate.speed)
    first, synchronous = synchronous_speed_step(plate.frequency, plate.poles)
    second, slip = slip_step(synchronous, per_minute)
    third = rotor_frequency_step(plate.frequency, slip)
    watts = exact(plate.power)
    torque = step("torque", "T", "P / (2π n)", f"{watts} W / (2π × {per_minute} / 60)", plate.torque, "N m")
    drawn = step(
        "input power", "P_1", "√3 U I cos φ",
        f"√3 × {exact(plate.line_voltage)} V × {exact(plate.current)} A × {exact(plate.power_factor)}",
        plate.input_power, "W",
    )  # fmt: skip
    efficiency = step("efficiency", "η", "P / P_1", f"{watts} / {figure(plate.input_power)}", 100 * plate.efficiency, "%")
    rows = (
        ("3~ motor", f"{exact(plate.frequency)} Hz"), ("power P", f"{exact(plate.power / 1000)} kW"),
        ("voltage U", f"{exact(plate.line_voltage)} V {plate.connection}"), ("current I", f"{exact(plate.current)} A"),
        ("speed n", f"{per_minute} r/min"), ("cos φ", f"{plate.power_factor:.2f}"),
    )  # fmt: skip
    return Exercise(
        "From this nameplate find the number of poles, the synchronous speed, the slip, the rotor frequency, "
        "the torque, and the efficiency, all at rated load.",
        f"{plate.poles} poles; synchronous {figure(synchronous)} r/min; slip {figure(100 * slip, 3)} %; rotor frequency "
        f"{figure(third.results[0].value)} Hz; "
        f"torque {figure(plate.torque)} N m; efficiency {figure(100 * plate.efficiency, 3)} %",
        ("The synchronous speed is the next one above the rated speed.",
         *(line_of(each) for each in (first, second, third, torque, drawn, efficiency))),
        paper_setups.plate(rows, "A motor's nameplate.").svg(),
        lines=6,
        accepted=(
            Accepted(Quantity(100 * slip, "%"), 5.0, "slip"),
            Accepted(third.results[0], 5.0, "rotor frequency"),
            Accepted(Quantity(plate.torque, "N m"), 2.0, "torque"),
            Accepted(efficiency.results[0], 2.0, "efficiency"),
        ),
    )  # fmt: skip


def _plate(dice) -> Nameplate:
    """A plausible motor, its figures rounded as on a plate and consistent with each other."""
    kilowatts, slip, efficiency, power_factor = dice.choice(MOTORS)
    frequency, poles = dice.choice(FREQUENCIES), dice.choice((2, 4, 4, 6))
    volts, factor = VOLTS[frequency], round(power_factor - 0.02 * (poles - 4) / 2, 2)
    per_minute = 5 * round(60 * frequency / (poles / 2) * (1 - slip) / 5)
    current = round(1000 * kilowatts / (math.sqrt(3) * volts * efficiency * factor), 1)
    return Nameplate(1000 * kilowatts, volts, frequency, per_minute / 60, current, factor, "star" if kilowatts < 4 else "delta")


KINDS = {
    "field-figure": Kind(("field-round-a-wire",), 1, 2, field_of_a_wire),
    "force-figure": Kind(("pushed-conductor",), 2, 3, force_on_a_conductor),
    "emf-figure": Kind(("moved-conductor",), 2, 3, emf_and_its_sign),
    "speeds": Kind(("slip-and-speed", "changing-speed"), 2, 6, speeds_and_slip),
    "alternator": Kind(("alternator",), 1, 2, alternator),
    "nameplate": Kind(("slip-and-speed",), 3, 6, nameplate),
}
