"""What is asked of the parts: which part does this, which is this one, what is the lit one and what is it there for, what comes off first,
which motor has it. The right answer is that of the part's own data."""

from __future__ import annotations

import random as chance

from scenes.machines.inside_a_motor.parts import CAGE, MOST, MOTORS, PARTS, SLIP_RING, Part, number_of, owners
from scenes.machines.inside_a_motor.snapshot import Setup, Snapshot
from scenes.machines.inside_a_motor.taking_apart import ORDER, STEPS, before, comes_off_in
from scenes.scene.scene import Question
from scenes.scene.story import Look

ASKED = (
    ("which", "which part does it"),
    ("place", "where a part is"),
    ("name", "name of the lit part"),
    ("job", "what the lit part does"),
    ("order", "what comes off first"),
    ("motor", "which motor has it"),
)
LIT_WHILE_ASKED = ("name", "job")
LETTERS = "ABCDE"
# parts that are close together and have to do with each other
_ALIKE = (
    {"drive-bearing", "other-bearing"}, {"drive-shield", "other-shield"}, {"fan", "cowl"}, {"bars", "end-rings"},
    {"brushes", "slip-rings", "brush-holders"}, {"terminal-box", "box-cover", "brush-cover"}, {"stator-core", "rotor-core"},
    {"shaft", "key"},
)  # fmt: skip


def subject(setup: Setup) -> Part:
    """The part that is asked about: the one that is set, or the first."""
    return setup.part or PARTS[setup.motor][0]


def _dice(setup: Setup, what: str) -> chance.Random:
    """The same others for the same set-up, however often and in whatever view it is asked."""
    return chance.Random(f"{setup.motor} {subject(setup).key} {what}")


def alike(one: Part, other: Part) -> bool:
    """Whether a beginner could take one for the other."""
    return any({one.key, other.key} <= each for each in _ALIKE)


def others(setup: Setup, count: int, *, apart: bool) -> list[Part]:
    """That many other parts of the motor: first those that could be taken for the right one; `apart`: no two that could be taken for
    each other, for these are also close together."""
    own = subject(setup)
    rest = [part for part in PARTS[setup.motor] if part is not own]
    _dice(setup, "others").shuffle(rest)
    if not apart:
        return sorted(rest, key=lambda part: not alike(own, part))[:count]
    taken = [own]
    for part in rest:
        if len(taken) <= count and not any(alike(part, each) for each in taken):
            taken.append(part)
    return taken[1:]


def offered(setup: Setup) -> list[Part]:
    """The parts among which one chooses, in the order in which they stand. Jobs are about as long as the right one, which nobody then
    knows by its length."""
    own = subject(setup)
    if setup.asked == "job":
        parts = [
            own,
            *sorted((part for part in PARTS[setup.motor] if part is not own), key=lambda part: abs(len(part.job) - len(own.job)))[:3],
        ]
    else:
        parts = [own, *others(setup, 4, apart=setup.asked == "place")]
    _dice(setup, "order").shuffle(parts)
    return parts


def lettered(setup: Setup) -> list[Part]:
    """The parts with a letter in the picture, A first, while it is asked where a part is."""
    return offered(setup) if setup.asked == "place" else []


def question(now: Snapshot, look: Look) -> Question:
    asked = {"which": _which, "place": _place, "name": _name, "job": _job, "order": _order, "motor": _motor}
    return asked[now.setup.asked](now.setup)


def _which(setup: Setup) -> Question:
    part = subject(setup)
    return Question(
        f"Which part of a {MOTORS[setup.motor]} is there to {part.job}?",
        tuple((each.key, each.name) for each in offered(setup)),
        part.key,
        f"{_sentence(part)} {part.it.capitalize()} {part.where}.",
        pressed=True,
    )


def _place(setup: Setup) -> Question:
    part, parts = subject(setup), offered(setup)
    letter = LETTERS[parts.index(part)]
    return Question(
        f"Which of the parts with a letter {part.verb} the {part.name}?",
        tuple((each.key, f"{LETTERS[place]}: {each.where}") for place, each in enumerate(parts)),
        part.key,
        f"{letter} {part.verb} the {part.name}, {part.where}. {part.it.capitalize()} there to {part.job}.",
        pressed=True,
    )


def _name(setup: Setup) -> Question:
    part = subject(setup)
    return Question(
        f"One part of this {MOTORS[setup.motor]} is lit. It is of {part.material}, and is {part.where}. What is its name?",
        tuple((each.key, each.name) for each in offered(setup)),
        part.key,
        _sentence(part),
    )


def _job(setup: Setup) -> Question:
    part = subject(setup)
    return Question(
        f"One part of this {MOTORS[setup.motor]} is lit. It is of {part.material}, and is {part.where}. What is it there for?",
        tuple((each.key, f"to {each.job}") for each in offered(setup)),
        part.key,
        f"{_sentence(part)} {'They carry' if part.verb == 'are' else 'It carries'} {part.carries}.",
    )


def _order(setup: Setup) -> Question:
    """Of four parts the one that has to come off before the others can."""
    motor, dice = setup.motor, _dice(setup, "order")
    by_step: dict[str, Part] = {}
    for part in (subject(setup), *others(setup, MOST, apart=False)):
        by_step.setdefault(comes_off_in(motor, part.key), part)
    own, steps = comes_off_in(motor, subject(setup).key), [step for step in by_step if step]
    after = {first: [step for step in steps if first in before(motor, step)] for first in steps}
    first = dice.choice([step for step in steps if len(after[step]) >= 3 and own in (step, "", *after[step])])
    rest = [step for step in after[first] if step != own]
    dice.shuffle(rest)
    asked = [first, *([own] if own in after[first] else []), *rest][:4]
    dice.shuffle(asked)
    return Question(
        f"A {MOTORS[motor]} is taken apart, isolated, locked off and proved dead. Which of these comes off first?",
        tuple((by_step[step].key, by_step[step].name) for step in asked),
        by_step[first].key,
        f"The order of these: {'; '.join(STEPS[step] for step in ORDER[motor] if step in asked)}.",
        shows=(("part", float(number_of(motor, by_step[first].key))),),
    )


def _motor(setup: Setup) -> Question:
    part = subject(setup)
    has = owners(part.key)
    why = {
        CAGE: "its currents flow round in bars and rings and need no way out",
        SLIP_RING: "its rotor has a winding whose currents are led out to resistors",
        "both": "stator, housing and bearings are the same in both",
    }[has]
    return Question(
        f"A part that is there to {part.job}: which motor has one?",
        ((CAGE, "the cage motor alone"), (SLIP_RING, "the slip-ring motor alone"), ("both", "both of them")),
        has,
        f"The {part.name}: {'both motors have it' if has == 'both' else f'only the {MOTORS[has]} has it'}, for {why}.",
    )


def _sentence(part: Part) -> str:
    return f"The {part.name}: {part.it} there to {part.job}."


def random_setup(random) -> dict:
    """What differs between the two motors more often than the rest. Asked what comes off first it is together, and then comes apart."""
    motor = random.choice((CAGE, SLIP_RING))
    parts = PARTS[motor]
    own = [number for number, part in enumerate(parts, 1) if owners(part.key) != "both"]
    number = random.choice(own) if random.random() < 0.4 else random.randint(1, len(parts))
    asked = random.choice([name for name, _ in ASKED])
    shown = {"by": "itself", "apart": 0.0} if asked == "order" else {"by": "hand", "apart": 100.0}
    return {"motor": motor, "part": float(number), "asked": asked} | shown
