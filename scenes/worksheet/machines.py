"""Exercises on machines: a stator's field, the phase order, a rotor bar, a question from the bench."""

from __future__ import annotations

import re

import numpy as np

from physics.directions import direction_words, left_hand, right_hand, turning_sense
from physics.windings import Winding
from physics.windings.coils_in_slots import BALANCED, PHASES
from scenes import catalogue
from scenes.bench.prediction import LARGEST_SEED, Prediction, setup_of
from scenes.drives.braking.shaft import DIRECT_CURRENT, PLUG, RAMP
from scenes.drives.terminal_box.board import joining_of
from scenes.machines.laying_the_winding.plans import ends, laid, plan_of
from scenes.scene.scene import Scene
from scenes.workings.writing import MINUS, exact
from scenes.worksheet.conductors import REASON
from scenes.worksheet.connections import joined_as
from scenes.worksheet.exercise import MARKS, RIGHT, TOWARD_YOU, UP, Exercise, Kind, mark
from scenes.worksheet.likeness import frame
from visual.paper import circuits, machines, paper_setups

STATOR = Winding(12, 2)
LINES = ("L1", "L2", "L3")
PEAK = 10  # A
MOST_COILS = 12  # that can be told apart in a drawing
# scenes whose own questions take the picture or the motor's figures; those of all others can be answered from the words, or a drawing
# beside them: all, or these of them
NOT_IN_WORDS = ("coils-and-commutator", "slip-and-speed", "changing-speed", "synchronous-motor", "starting")
SOME_IN_WORDS: dict[str, dict[str, tuple]] = {
    "inside-a-motor": {"asked": ("which", "order", "motor")}, "terminal-box": {"asked": ("turns", "joining", "voltage")},
    "one-phase": {"asked": ("turns",)}, "braking": {"asked": ("heat",), "method": (PLUG, DIRECT_CURRENT, RAMP)},  # coasting leaves none
}  # fmt: skip
IN_WORDS = tuple(name for name in catalogue.NAMES if name not in NOT_IN_WORDS)
TURNS = {"clockwise": "clockwise", "counter-clockwise": "counter-clockwise", "none": "it does not start"}
SEEN_LIVE = ("reversed", "lost", "uneven", "overload")  # faults of which a motor's test sheet tells nothing where it is dead
NOTHING = ("none", "nowhere")  # answers of scenes by which nothing is pushed, induced or turned
MOVING = {1: "to the right", -1: "to the left"}
BARS = {
    0.0: "is at standstill", 0.5: "moves with them at half their speed", 1.0: "moves with them at exactly their speed",
    1.4: "is driven with them, faster than they move", -0.5: "is driven against them",
}  # fmt: skip


def field_of_a_stator(dice) -> Exercise:
    """Three phases at one of twelve instants: the dots and crosses in the slots, and the clock hour the field points to."""
    instant = np.radians(30 * dice.randrange(12))
    currents = (PEAK * np.real(BALANCED * np.exp(1j * instant))).round(2) + 0.0
    axis = STATOR.field_axis(currents)
    hour = round(3 - np.degrees(axis) / 30) % 12 or 12
    in_slots = STATOR.slot_currents(currents)
    groups = [f"{'+' if side.sign > 0 else MINUS}{side.phase}" for side in STATOR.slot_table]
    words = "A stator with 12 slots looking at the drive end, each slot with its phase and sign."
    given = ", ".join(f"I_{phase} = {exact(current)} A" for phase, current in zip(PHASES, currents, strict=True))
    dots, crosses, empty = (
        ", ".join(sorted({group for group, each in zip(groups, in_slots, strict=True) if np.sign(round(each, 6)) == sign}))
        for sign in (1, -1, 0)
    )
    return Exercise(
        "A stator, looking at the drive end. In the slots marked + a positive current flows toward you, in those marked "
        f"{MINUS} away from you. At this instant {given}. Put a dot or a cross in every slot that carries current, "
        "and draw the field B across the bore. Which hour of the clock does it point to?",
        f"to {hour} o'clock",
        (f"Dot: {dots}. Cross: {crosses}." + (f" Empty: {empty}." if empty else ""),
         "Right hand, fingers along the currents round the bore: the thumb gives the field, "
         f"{direction_words((np.cos(axis), np.sin(axis), 0))}."),
        paper_setups.stator(STATOR.slot_angles, groups, np.zeros(12), None, words).svg(),
        paper_setups.stator(STATOR.slot_angles, groups, np.sign(in_slots.round(6)), axis, words).svg(),
        lines=1,
        besides=((1, "every dot"), (1, "every cross"), (1, "the field drawn")),
        case=f"{np.count_nonzero(currents)} currents",
    )  # fmt: skip


def order_of_the_lines(dice) -> Exercise:
    """Lines on the terminals in any order, sometimes with one open, looking at either end."""
    lines = tuple(dice.sample(LINES, 3))
    open_line = dice.choice(LINES) if dice.random() < 0.2 else None
    end, sight = dice.choice((("the drive end", TOWARD_YOU), ("the non-drive end", -TOWARD_YOU)))
    clockwise, counter = (abs(wave) for wave in STATOR.travelling_waves(_phasors(lines, open_line)))
    axis = np.round(counter - clockwise, 9) * TOWARD_YOU  # the stator is laid out looking at +z, its drive end
    joined = ", ".join(f"{line} to {terminal}1" for line, terminal in zip(lines, "UVW", strict=True))
    fact = (
        f"{open_line} is open: two waves of equal size rotate against each other, and at standstill neither wins. The motor only hums."
        if open_line
        else f"U-V-W are fed in the order {'-'.join(lines)}; as marked, L1-L2-L3, the shaft turns clockwise "
        "looking at the drive end. "
        + ("This is the same order." if clockwise > counter else "Two phases are swapped, and that reverses it.")
    )
    other = "" if open_line or end == "the drive end" else " Looking at the non-drive end, the same rotation appears reversed."
    return Exercise(
        "A three-phase motor is at standstill. Its terminals are U1, V1, W1; the phase sequence of the supply is "
        f"L1, L2, L3. It is switched on as drawn ({joined}). "
        f"Which way does the shaft turn, looking at {end}? Say why.",
        TURNS[turning_sense(axis, sight)],
        (fact + other,),
        paper_setups.terminals(lines, open_line, "Three lines connected to the terminals of a motor.").svg(),
        choices=tuple(TURNS.values()),
        besides=((1, REASON),),
        case=f"{end}, {'one open' if open_line else 'straight' if clockwise > counter else 'swapped'}",
    )


def _phasors(lines, open_line: str | None) -> np.ndarray:
    """Current phasors of U, V, W. With one line open the other two windings are in series between two lines."""
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
    emf = right_hand(field, against_the_field).second_finger
    hand = left_hand(field, emf)
    force = hand.thumb
    words = "A pole of the stator's field above a rotor bar, with arrows for their speeds."
    answer = "; ".join([MARKS[mark(emf)], f"pushed {direction_words(force)}" if mark(emf) else "not pushed"])
    reason = (
        f"Relative to the field the bar moves {direction_words(against_the_field)}, the field points {direction_words(field)}: by the "
        f"right hand the current flows {direction_words(emf)}; by the left hand the bar is then pushed {direction_words(force)}."
        if mark(emf)
        else "The bar moves with the field and cuts no flux: no EMF, no current, no force."
    )
    return Exercise(
        f"The poles of the stator's field move {MOVING[pole_motion]}; a rotor bar under one of them "
        f"{BARS[share]}. Mark the current in the bar with a dot or a cross, and draw the force F on it; "
        "leave both out if there is none.",
        answer,
        (reason,),
        paper_setups.bar_under_a_pole(letter, pole_motion, share * pole_motion, None, 0, words).svg(),
        paper_setups.bar_under_a_pole(letter, pole_motion, share * pole_motion, mark(emf), float(force[0]), words).svg(),
        lines=1,
        hand=hand,
        case=BARS[share],
    )


def question_of_the_bench(dice, scenes: tuple[str, ...]) -> Exercise:
    """A scene's own question, so that the answer can be watched there."""
    name, prediction = dice.choice(scenes), Prediction()
    scene = catalogue.scene_class(name)()
    prediction.ask(scene, _seed_in_words(dice, scene))
    question = prediction.posed
    words = dict(question.choices)
    return Exercise(
        f"{question.text} Say why.",
        words[question.answer],
        (question.reason, f"See it on the bench: {scene.title}, question no. {prediction.seed}."),
        DRAWN[name](scene.settings) if name in DRAWN else "",
        choices=tuple(words.values()),
        besides=((1, REASON),),
        case=f"{_effect(question.answer)}, {_directed(words[question.answer])}: {frame(question.text)}",
    )


def _effect(answer: str) -> str:
    """What is to be seen, as far as it makes a question easier or harder."""
    if answer in NOTHING:
        return "nothing happens"
    return "only with power on" if answer in SEEN_LIVE else "something happens"


def _directed(answer: str) -> str:
    """Of an answer that is a direction whether it lies between two others, "up and to the right"."""
    found = frame(answer)
    return found if re.fullmatch("along( and along)*", found) else ""


def _seed_in_words(dice, scene: Scene) -> int:
    """The number of a question that its words and drawing are enough for."""
    while True:
        seed = dice.randint(1, LARGEST_SEED)
        setup = setup_of(scene, seed)
        if all(setup[setting] in values for setting, values in SOME_IN_WORDS.get(scene.name, {}).items()):
            return seed


def _board(settings) -> str:
    joining = joining_of(settings)
    return circuits.board(joining.wiring.links, joining.wiring.leads, "The terminal board, with its links and leads.").svg()


def _measured(settings) -> str:
    return circuits.board(joined_as(settings["joined"]), {}, f"The terminal board, its links in {settings['joined']}.").svg()


def _laid(settings) -> str:
    """The coils, one by one where they are few; otherwise the empty slots."""
    plan = plan_of(settings)
    coils = [(coil.phase, *(slot + 1 for slot in ends(coil))) for coil in laid(plan, settings["laid"]).coils]
    return machines.unrolled(
        plan.slots, coils if len(coils) <= MOST_COILS else (), "The slots of the stator, unrolled, and its coils."
    ).svg()


DRAWN = {"terminal-box": _board, "instruments": _measured, "laying-the-winding": _laid}


KINDS = {
    "stator": Kind(("turning-field",), 3, 4, field_of_a_stator),
    "lines": Kind(("turning-field", "terminal-box"), 2, 2, order_of_the_lines),
    "bar": Kind(("cage-rotor",), 2, 2, bar_of_the_rotor),
    "bench": Kind(IN_WORDS, 3, 2, question_of_the_bench, asks_scene=True),
}
