"""Exercises on machines: a stator's field, the order of the lines, a bar of the rotor, a question of the bench."""

from __future__ import annotations

import numpy as np

from physics.directions import direction_words, emf_direction, force_direction, turning_sense
from physics.windings import Winding
from physics.windings.coils_in_slots import BALANCED, PHASES
from scenes import catalogue
from scenes.bench.prediction import LARGEST_SEED, Prediction
from scenes.workings.writing import MINUS, exact
from scenes.worksheet.exercise import MARKS, RIGHT, TOWARD_YOU, UP, Exercise, mark
from visual.paper import paper_setups

STATOR = Winding(12, 2)
LINES = ("L1", "L2", "L3")
PEAK = 10  # A
# whose questions can be answered from their words alone, without the picture or the motor's figures
IN_WORDS = (
    "field-round-a-wire", "pushed-conductor", "two-wires", "moved-conductor", "alternator", "turning-field", "cage-rotor",
)  # fmt: skip
TURNS = {"clockwise": "clockwise", "counter-clockwise": "counter-clockwise", "none": "it does not start"}
WAYS = {1: "to the right", -1: "to the left"}
BARS = {
    0.0: "stands still", 0.5: "moves the same way at half their speed", 1.0: "moves the same way exactly as fast",
    1.4: "is driven the same way faster than they", -0.5: "is driven against them",
}  # fmt: skip


def field_of_a_stator(dice) -> Exercise:
    """Three phases at one of twelve instants: the marks of the slots, and the hour to which the field points."""
    instant = np.radians(30 * dice.randrange(12))
    currents = (PEAK * np.real(BALANCED * np.exp(1j * instant))).round(2) + 0.0
    axis = STATOR.field_axis(currents)
    hour = round(3 - np.degrees(axis) / 30) % 12 or 12
    in_slots = STATOR.slot_currents(currents)
    belts = [f"{'+' if side.sign > 0 else MINUS}{side.phase}" for side in STATOR.slot_table]
    words = "A stator of 12 slots from its drive end, every slot with its phase and sign."
    given = ", ".join(f"I_{phase} = {exact(current)} A" for phase, current in zip(PHASES, currents, strict=True))
    dots, crosses, empty = (
        ", ".join(sorted({belt for belt, each in zip(belts, in_slots, strict=True) if np.sign(round(each, 6)) == sign}))
        for sign in (1, -1, 0)
    )
    return Exercise(
        "A stator from its drive end. In the slots marked + a positive current flows toward you, in those marked "
        f"{MINUS} away from you. At this moment {given}. Put a dot or a cross into every slot that carries current, "
        "and draw the field B across the bore. To which hour of the clock does it point?",
        f"to {hour} o'clock",
        (f"Dot: {dots}. Cross: {crosses}." + (f" Empty: {empty}." if empty else ""),
         "Right hand, fingers with the currents round the bore: the thumb gives the field, "
         f"{direction_words((np.cos(axis), np.sin(axis), 0))}."),
        paper_setups.stator(STATOR.slot_angles, belts, np.zeros(12), None, words).svg(),
        paper_setups.stator(STATOR.slot_angles, belts, np.sign(in_slots.round(6)), axis, words).svg(),
        lines=1,
    )  # fmt: skip


def order_of_the_lines(dice) -> Exercise:
    """Lines to terminals in any order, sometimes one of them open, seen from one end or the other."""
    lines = tuple(dice.sample(LINES, 3))
    open_line = dice.choice(LINES) if dice.random() < 0.2 else None
    end, seen_from = dice.choice((("the drive end", TOWARD_YOU), ("the non-drive end", -TOWARD_YOU)))
    clockwise, counter = (abs(wave) for wave in STATOR.travelling_waves(_phasors(lines, open_line)))
    axis = np.round(counter - clockwise, 9) * TOWARD_YOU  # the stator is laid out as seen from +z, its drive end
    joined = ", ".join(f"{line} to {terminal}1" for line, terminal in zip(lines, "UVW", strict=True))
    fact = (
        f"{open_line} is open: two waves of equal size run against each other, and at standstill neither wins. "
        "It only hums."
        if open_line
        else f"U-V-W are fed in the order {'-'.join(lines)}; as marked, L1-L2-L3, the shaft turns clockwise "
        "seen from the drive end. "
        + ("This is the same order." if clockwise > counter else "Two lines are exchanged, and that reverses it.")
    )
    other = (
        "" if open_line or end == "the drive end" else " From the other end the same turning looks the other way round."
    )
    return Exercise(
        "A three-phase motor stands still. Its terminals are U1, V1, W1, the lines follow each other in the order "
        f"L1, L2, L3. It is switched on as drawn ({joined}{f'; {open_line} is interrupted' if open_line else ''}). "
        f"Which way does the shaft turn, seen from {end}?",
        TURNS[turning_sense(axis, seen_from)],
        (fact + other,),
        paper_setups.terminals(lines, open_line, "Three lines joined to the terminals of a motor.").svg(),
        choices=tuple(TURNS.values()),
        lines=1,
    )


def _phasors(lines, open_line: str | None) -> np.ndarray:
    """Currents of U, V, W. Without the open line the other two are in series between two lines."""
    phasors = np.array([BALANCED[LINES.index(line)] for line in lines])
    if open_line:
        fed = np.array([line != open_line for line in lines])
        phasors = np.where(fed, phasors - phasors[fed].mean(), 0)
    return phasors


def bar_of_the_rotor(dice) -> Exercise:
    letter, pole_motion = dice.choice("NS"), dice.choice((1, -1))
    share = dice.choice(list(BARS))
    field = -UP if letter == "N" else UP  # out of an N pole, into the rotor below it
    against_the_field = (share - 1) * pole_motion * RIGHT
    emf = emf_direction(field, against_the_field)
    force = force_direction(field, emf)
    words = "A pole of the stator's field above a bar of the rotor, with arrows for their speeds."
    answer = "; ".join([MARKS[mark(emf)], f"pushed {direction_words(force)}" if mark(emf) else "not pushed"])
    reason = (
        f"Seen from the field the bar moves {direction_words(against_the_field)}, the field points "
        f"{direction_words(field)}: by the right hand the current flows {direction_words(emf)}; "
        f"by the left hand the bar is then pushed {direction_words(force)}."
        if mark(emf)
        else "The bar moves with the field and cuts no flux: no EMF, no current, no force."
    )
    return Exercise(
        f"The poles of the stator's field move {WAYS[pole_motion]}; a bar of the rotor under one of them "
        f"{BARS[share]}. Mark the current in the bar with a dot or a cross, and draw the push F on it; "
        "leave both out where there is none.",
        answer,
        (reason,),
        paper_setups.bar_under_a_pole(letter, pole_motion, share * pole_motion, None, 0, words).svg(),
        paper_setups.bar_under_a_pole(
            letter, pole_motion, share * pole_motion, mark(emf), float(force[0]), words
        ).svg(),
        lines=1,
    )


def question_of_the_bench(dice) -> Exercise:
    """A scene's own question, so that the answer can be seen there."""
    scene, prediction = catalogue.scene_class(dice.choice(IN_WORDS))(), Prediction()
    prediction.ask(scene, dice.randint(1, LARGEST_SEED))
    question = prediction.posed
    words = dict(question.choices)
    return Exercise(
        question.text,
        words[question.answer],
        (question.reason, f"To be seen on the bench: {scene.title}, question no. {prediction.seed}."),
        choices=tuple(words.values()),
        lines=2,
    )


KINDS = {
    "stator": field_of_a_stator,
    "lines": order_of_the_lines,
    "bar": bar_of_the_rotor,
    "bench": question_of_the_bench,
}
