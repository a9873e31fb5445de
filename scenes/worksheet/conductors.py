"""Exercises on conductors: field round a wire, force, EMF, the hand rules, two wires, a coil between poles."""

from __future__ import annotations

import numpy as np

from physics.directions import (
    direction_words,
    emf_direction,
    field_direction,
    force_direction,
    left_hand,
    right_hand,
    turning_sense,
)
from scenes.worksheet.exercise import (
    EVERY_DIRECTION,
    IN_THE_PAPER,
    MARKS,
    TOWARD_YOU,
    Exercise,
    Kind,
    mark,
    on_paper,
)
from visual.paper import paper_setups

NOWHERE = np.zeros(3)
SIDES = {"to the left": "on the left", "to the right": "on the right", "down": "below", "up": "above"}
FINGERS, REASON = "the fingers: which stands for what", "the reason"
ALONG = 1 / 6  # share of exercises in which nothing happens, the current or motion being along the field
TURNS = {"clockwise": "clockwise", "counter-clockwise": "counter-clockwise", "none": "it does not turn"}


def compass_needles(dice) -> Exercise:
    current = dice.choice((1, -1)) * TOWARD_YOU
    angles = np.radians(sorted(dice.sample(range(0, 360, 45), 3)))
    places = 15.0 * np.column_stack([np.cos(angles), np.sin(angles), np.zeros(3)])
    needles = [field_direction(current, place) for place in places]
    words = "A wire end-on with three compasses round it."
    on = [on_paper(place) for place in places]
    return Exercise(
        "A wire is shown end-on with three compasses round it. Draw in each compass which way its N pole points. "
        "(Neglect the Earth's field.)",
        "; ".join(f"{letter} {direction_words(needle)}" for letter, needle in zip("ABC", needles, strict=True)),
        (f"Right hand round the wire, thumb along the current, {direction_words(current)}: seen from here the fingers "
         f"curl {turning_sense(current, TOWARD_YOU)}.",),
        paper_setups.needles(mark(current), on, [NOWHERE[:2]] * 3, words).svg(),
        paper_setups.needles(mark(current), on, [on_paper(needle) for needle in needles], words).svg(),
        lines=0,
        case=f"{np.count_nonzero(np.all(places.round(6)[:, :2], axis=1))} aslant",
    )  # fmt: skip


def push(dice) -> Exercise:
    field, current = dice.choice(list(IN_THE_PAPER.values())), dice.choice((1, -1)) * TOWARD_YOU
    hand = left_hand(field, current)

    def drawn(with_force: bool) -> str:
        drawing = paper_setups.poles(on_paper(field), "A conductor end-on between the poles of a magnet.")
        drawing.conductor((0, 0), mark(current))
        if with_force:
            drawing.arrow(4 * on_paper(hand.thumb), 10 * on_paper(hand.thumb), "F")
        return drawing.svg()

    return Exercise(
        "The conductor carries the current shown. Which way is it pushed? Draw the force F and say which finger stands for what.",
        direction_words(hand.thumb),
        (hand.words(),),
        drawn(False),
        drawn(True),
        hand=hand,
        besides=((1, FINGERS),),
    )


def emf_of_a_conductor(dice) -> Exercise:
    _, field, _, motion = _two_directions(dice, IN_THE_PAPER)
    hand = right_hand(field, motion)

    def drawn(current: int) -> str:
        drawing = paper_setups.poles(on_paper(field), "A conductor end-on, moving between the poles of a magnet.")
        drawing.conductor((0, 0), current)
        start = 4 * on_paper(motion) if field @ motion == 0 else -4.5 * on_paper(motion) + 5.5 * np.abs(on_paper(motion)[::-1])
        drawing.arrow(start, start + 6.5 * on_paper(motion), "v")
        return drawing.svg()

    return Exercise(
        "The conductor moves in the direction v. Mark with a dot or a cross which way its EMF drives current; "
        "leave it empty if there is none. Say which finger stands for what.",
        MARKS[mark(hand.second_finger)],
        (hand.words(),),
        drawn(0),
        drawn(mark(hand.second_finger)),
        hand=hand,
        besides=((1, FINGERS),),
        case=_effect(hand.second_finger),
    )


def which_pole(dice) -> Exercise:
    """The force is given and the field asked for: of the two ways the poles can be placed, one gives that force."""
    toward, current = dice.choice(list(IN_THE_PAPER.values())), dice.choice((1, -1)) * TOWARD_YOU
    given = force_direction(toward, current)
    field = next(each for each in (toward, -toward) if np.allclose(force_direction(each, current), given))
    axis = np.abs(on_paper(toward))  # so that the drawing does not give the answer away

    def drawn(letters: tuple[str, str]) -> str:
        drawing = paper_setups.poles(axis, "A conductor between two poles without letters.", letters)
        drawing.conductor((0, 0), mark(current))
        drawing.arrow(4 * on_paper(given), 10 * on_paper(given), "F")
        return drawing.svg()

    return Exercise(
        "The conductor carries the current shown and the force on it is F. Which pole is N? Write N and S on "
        "the poles. Say why.",
        f"N is the pole {SIDES[direction_words(-field)]}",
        (left_hand(field, current).words(), "The field goes from N to S."),
        drawn(("?", "?")),
        drawn(("N", "S") if on_paper(field) @ axis > 0 else ("S", "N")),
        hand=left_hand(field, current),
        besides=((1, REASON),),
    )  # fmt: skip


def left_hand_in_space(dice) -> Exercise:
    field_words, field, current_words, current = _two_directions(dice, EVERY_DIRECTION)
    hand = left_hand(field, current)
    return _in_space(
        f"The field B points {field_words}, the current I flows {current_words}. Which way is the conductor pushed?",
        (("B", *field), ("I", *current)), ("F", *hand.thumb),
        "it is not pushed", hand,
    )  # fmt: skip


def right_hand_in_space(dice) -> Exercise:
    field_words, field, motion_words, motion = _two_directions(dice, EVERY_DIRECTION)
    hand = right_hand(field, motion)
    return _in_space(
        f"The field B points {field_words}, a conductor moves {motion_words} (v). Which way does the EMF act in it?",
        (("B", *field), ("v", *motion)), ("E", *hand.second_finger),
        "there is none", hand,
    )  # fmt: skip


def _two_directions(dice, directions: dict):
    """Words and vector of a field, and of a second direction: along the field once in six times, otherwise across it."""
    field = dice.choice(list(directions))
    along = dice.random() < ALONG
    other = dice.choice([words for words, each in directions.items() if bool(each @ directions[field]) is along])
    return field, directions[field], other, directions[other]


def _in_space(text: str, given, answer, none: str, hand) -> Exercise:
    words = "A box in oblique projection, with arrows from its centre; toward you is to the lower left."
    choices = [*EVERY_DIRECTION, none]
    found = direction_words(answer[1:])
    together = given[0][1:] == given[1][1:]
    shown = ((f"{given[0][0]}, {given[1][0]}", *given[0][1:]),) if together else given
    return Exercise(
        f"{text} (Drawn obliquely: toward you is to the lower left.)",
        none if found == "nowhere" else found,
        (hand.words(),),
        paper_setups.in_space(shown, words).svg(),
        paper_setups.in_space((*shown, answer), words).svg(),
        tuple(choices),
        lines=0,
        hand=hand,
        case=_effect(answer[1:]),
    )


def _effect(result) -> str:
    return "something happens" if np.any(result) else "nothing happens"


def two_wires(dice) -> Exercise:
    """Each wire lies in the field of the other."""
    places = np.array([[-1.0, 0, 0], [1.0, 0, 0]])
    currents = [dice.choice((1, -1)) * TOWARD_YOU for _ in range(2)]
    fields = [field_direction(currents[1 - n], places[n] - places[1 - n]) for n in range(2)]
    pushes = [force_direction(field, current) for field, current in zip(fields, currents, strict=True)]
    attracted = pushes[0] @ (places[1] - places[0]) > 0
    marks, words = [mark(current) for current in currents], "Two parallel wires end-on, A and B."
    return Exercise(
        "Two parallel wires carry the currents shown. Draw the force on each. Do they attract or repel each other?",
        "they attract each other" if attracted else "they repel each other",
        tuple(
            f"At wire {letter} the field of the other wire points {direction_words(field)}. {left_hand(field, current).words()}"
            for letter, field, current in zip("AB", fields, currents, strict=True)
        ),
        paper_setups.two_wires(marks, [NOWHERE[:2]] * 2, words).svg(),
        paper_setups.two_wires(marks, [on_paper(push) for push in pushes], words).svg(),
        besides=((1, "the force drawn on A"), (1, "the force drawn on B")),
    )


def _coil_at(dice, field) -> np.ndarray:
    """Where the first coil side lies: along the field, across it, or in between."""
    degrees = dice.choice((0, 45, 90, 135, 180, 225, 270, 315))
    turn = np.radians(degrees + np.degrees(np.arctan2(field[1], field[0])))
    return (7.0 * np.array([np.cos(turn), np.sin(turn), 0.0])).round(9)


def coil_as_motor(dice) -> Exercise:
    field, current = dice.choice(list(IN_THE_PAPER.values())), dice.choice((1, -1)) * TOWARD_YOU
    first = _coil_at(dice, field)
    sides, currents = (first, -first), (current, -current)
    pushes = [force_direction(field, each) for each in currents]
    torque = np.sum([np.cross(side, push) for side, push in zip(sides, pushes, strict=True)], axis=0).round(9)
    turns = TURNS[turning_sense(torque, TOWARD_YOU)]
    drawing = paper_setups.coil(
        on_paper(field), [on_paper(side) for side in sides], [mark(each) for each in currents],
        "A coil between the poles of a magnet, looking along its shaft.",
    )  # fmt: skip
    return Exercise(
        "You are looking along the shaft of a coil that carries the current shown. Which way does it start to turn, "
        "seen from here? Say why.",
        turns,
        (f"Left hand: side A is pushed {direction_words(pushes[0])}, side B {direction_words(pushes[1])}."
         + (" Both forces act in line with the shaft: there is no torque." if turns == TURNS["none"] else ""),),
        drawing.svg(),
        choices=tuple(TURNS.values()),
        hand=left_hand(field, current),
        besides=((1, REASON),),
        case=_effect(torque),
    )  # fmt: skip


def coil_as_generator(dice) -> Exercise:
    field, clockwise = dice.choice(list(IN_THE_PAPER.values())), dice.random() < 0.5
    first = _coil_at(dice, field)
    spin = -TOWARD_YOU if clockwise else TOWARD_YOU
    sides = (first, -first)
    motions = [np.cross(spin, side).round(9) for side in sides]
    emfs = [emf_direction(field, motion) for motion in motions]

    def drawn(currents) -> str:
        drawing = paper_setups.coil(
            on_paper(field), [on_paper(side) for side in sides], currents,
            "A coil turned between the poles of a magnet, looking along its shaft.", 47 if field[0] else 54,
        )  # fmt: skip
        drawing.turning((0, 0), 21.4 if field[0] else 24.4, clockwise)  # outside the poles
        return drawing.svg()

    return Exercise(
        "The coil is turned in the direction of the arrow. Mark both sides with a dot or a cross to show which way the "
        "EMF drives current at this instant; leave them empty if there is none.",
        "; ".join(f"{letter} {MARKS[mark(emf)]}" for letter, emf in zip("AB", emfs, strict=True)),
        tuple(
            f"Side {letter} moves {direction_words(motion)} (thumb), the field points {direction_words(field)} (first "
            "finger)"
            + (
                f": the second finger points {direction_words(emf)}."
                if mark(emf)
                else ": the motion is along the field, so no flux is cut."
            )
            for letter, motion, emf in zip("AB", motions, emfs, strict=True)
        ),
        drawn((0, 0)),
        drawn([mark(emf) for emf in emfs]),
        lines=1,
        hand=right_hand(field, motions[0]),
        case=_effect(emfs),
    )


KINDS = {
    "compass-needles": Kind(("field-round-a-wire",), 1, 3, compass_needles),
    "push": Kind(("pushed-conductor",), 1, 2, push),
    "emf": Kind(("moved-conductor",), 1, 2, emf_of_a_conductor),
    "which-pole": Kind(("pushed-conductor",), 3, 2, which_pole),
    "left-hand": Kind(("pushed-conductor",), 1, 1, left_hand_in_space),
    "right-hand": Kind(("moved-conductor",), 1, 1, right_hand_in_space),
    "two-wires": Kind(("two-wires",), 2, 3, two_wires),
    "coil-as-motor": Kind(("coils-and-commutator",), 2, 2, coil_as_motor),
    "coil-as-generator": Kind(("coils-and-commutator", "alternator"), 2, 2, coil_as_generator),
}
