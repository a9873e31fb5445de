"""The usual mistakes: their names, and the sentence that tells one who made it."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from scenes.scene.question import Question

OTHER_HAND = "other hand"
FINGERS = "fingers exchanged"
ELECTRONS = "electron flow"
OTHER_END = "seen from the other end"
SUM = "sum instead of difference"
POLES = "poles for pole pairs"
PER_PHASE = "per phase for line"
LINE = "line for per phase"
INVERSE = "more and less exchanged"
NO_EFFECT = "an effect left out"
AN_EFFECT = "an effect where there is none"
MINUTES = "minutes for seconds"
PREFIX = "unit prefix"
PEAK = "peak for r.m.s."
ROTOR_FOR_FIELD = "rotor for field"
LIKE_POLES = "wires taken for poles"
ALONG = "along instead of across"
COSINE = "cosine for sine"
ALONG_FIELD = "along the field taken for across"
FIRST_POWER = "in proportion for the square"
AS_MARKED = "phase order left out"
COUNTED_BACK = "counted the wrong way"
OFF_BY_ONE = "one slot out"
FULL_PITCH = "full pitch for the coil pitch"
ALWAYS_WITH = "always with the field"
STAR_AND_DELTA = "star and delta exchanged"
MOTOR_FOR_LINE = "the motor's current for the line's"
NOT_REVERSED = "field not reversed"
WIDEST = "range for deviation"
ONE_WINDING = "one winding for all"
OTHER_FIELD = "the other field"
SLIPS = "slip where there is none"
LIKE_PART = "taken for a part beside it"
STOPS_BY_ITSELF = "standstill taken for the end"
MOTION_ALONE = "energy of motion alone"
MECHANICAL = "mechanical for electrical angle"

WHAT_IT_IS = {
    OTHER_HAND: "The other hand gives this answer: the left hand is for a wire that is pushed, the right hand for one that generates and "
    "for the field round a wire.",
    FINGERS: "Exchanged fingers give this answer: in either hand the first finger is the field.",
    ELECTRONS: "Electron flow gives this answer: in these rules current flows from + to −, against the electrons.",
    OTHER_END: "This answer is right seen from the other end: looking at the other end, clockwise and counter-clockwise change places.",
    SUM: "This answer takes the sum, where the difference is needed.",
    POLES: "This answer takes poles for pole pairs: a pole pair is two poles.",
    PER_PHASE: "This is the value of a winding, but that of the line is asked for: the two are √3 apart.",
    LINE: "This is the value of the line, but that of a winding is asked for: the two are √3 apart.",
    INVERSE: "This answer is the wrong way round: what it calls more is less, or what it calls less is more.",
    NO_EFFECT: "This answer leaves things as they were, but the change has an effect.",
    AN_EFFECT: "This answer has the change make a difference, but it makes none.",
    MINUTES: "This answer mixes up minutes and seconds: a minute has 60 seconds.",
    PREFIX: "The prefix of the unit is out by a thousand.",
    PEAK: "This answer mixes up peak and r.m.s. values: they are √2 apart.",
    ROTOR_FOR_FIELD: "This answer mixes up the speeds: the field's, the rotor's own, and the slip between them.",
    LIKE_POLES: "This answer takes the wires for poles: like poles repel, but wires with currents in the same direction attract.",
    ALONG: "This answer goes along the line that leads out from the wire: the field lies across that line.",
    COSINE: "This answer takes the part of the current along the field: only the part across it is pushed, that of the sine.",
    ALONG_FIELD: "This answer has the field act on a current or a motion that is along the field: only what is across the field counts.",
    FIRST_POWER: "This answer goes in proportion, but the quantity goes with the square.",
    AS_MARKED: "This answer takes the phases in the order of their letters, U, V, W: what counts is the order in which they really peak.",
    COUNTED_BACK: "This answer is counted in the wrong direction.",
    OFF_BY_ONE: "This answer is one slot out: a coil pitch of 6 goes from slot 1 to slot 7, not to slot 6.",
    FULL_PITCH: "This is the full pitch, but the coil has a shorter one.",
    STAR_AND_DELTA: "This is so in the other connection: star and delta are exchanged.",
    MOTOR_FOR_LINE: "This is what the motor draws from the transformer; the line gives less, as its voltage is higher.",
    NOT_REVERSED: "This answer leaves the field as it was: with two lines swapped the field rotates against the shaft.",
    WIDEST: "This answer takes the range from least to most; unbalance is the largest deviation from the mean.",
    ONE_WINDING: "This is one winding by itself; between two terminals there are others too.",
    OTHER_FIELD: "This is the slip in the field that turns with the rotor; the other field turns against it.",
    SLIPS: "A synchronous motor has no slip: in step it has the speed of the field.",
    LIKE_PART: "This part is close to the one asked for, and has to do with it.",
    STOPS_BY_ITSELF: "This answer takes standstill for the end: a field that turns against the shaft goes on to drive it the other way, "
    "unless something switches the field off.",
    MOTION_ALONE: "This answer takes the rotor's heat to be its energy of motion by every method: what crosses the air gap counts as "
    "well, and what friction takes does not.",
    MECHANICAL: "This is the mechanical angle: the electrical one is as many times larger as there are pole pairs.",
    ALWAYS_WITH: "This answer takes the rotor to be pushed with the field always: as fast as the field it is not pushed, and faster it is "
    "held back.",
}
ENOUGH, LOOKED_BACK = 2, 5  # wrong answers with it, of that many answers that tell of a mistake
OR, LEFT_OUT = " or ", " left out"


@dataclass(frozen=True)
class Evidence:
    """What an answer tells of mistakes: those that may be behind it, and those that would have given another one."""

    made: frozenset[str]
    avoided: frozenset[str]


def mistake_in(question: Question, given: str) -> str | None:
    """The usual mistake behind an answer, by name, where only one gives it: what cannot be told apart is not claimed."""
    names = question.may_be(given)
    return names[0] if len(names) == 1 else None


def left_out(what: str) -> str:
    """The mistake that leaves something out of a formula, by name: that of "the factor sin θ", say."""
    return f"{what}{LEFT_OUT}"


def told(mistake: str | None) -> str:
    """The sentence on a mistake; "" for none, and for one that is not known."""
    name = mistake or ""
    if name in WHAT_IT_IS or not name.endswith(LEFT_OUT):
        return WHAT_IT_IS.get(name, "")
    return f"{name[:1].upper()}{name.removesuffix(LEFT_OUT)[1:]} was left out."


def told_of(names: Sequence[str]) -> str:
    """The sentence on the mistake that may be behind an answer; of several, which they are: none is claimed. "" for none."""
    if len(names) < 2:
        return "".join(map(told, names))
    return f"This answer could come from {'several' if names[2:] else 'either of two'} mistakes: {listed(names)}."


def listed(names: Sequence[str]) -> str:
    """Mistakes of which it may be any, in words."""
    *others, last = names
    return f"{', '.join(others)} or {last}" if others else last


def told_against(question: Question, given: str) -> str:
    """The mistakes that may be behind an answer, and what speaks against it."""
    return f"{told_of(question.may_be(given))} {dict(question.against).get(given, '')}".strip()


def explained(question: Question, given: str | None) -> str:
    """The same and the reason, as told to one who gave that answer, or to one who gave none: the right one may stand right before it."""
    if given is None:
        return question.reason
    which = f"Why not \u201c{question.words_of(given)}\u201d?" if question.may_be(given) else ""
    return " ".join(filter(None, (which, told_against(question, given), question.reason)))


def shown_by(question: Question) -> frozenset[str]:
    """The usual mistakes that would give a wrong answer to it."""
    slips = question.figure.slips if question.figure else ()
    return frozenset(name for _, names in question.mistakes for name in names) | frozenset(name for _, name in slips)


def tells_apart(question: Question, mistakes: Iterable[str]) -> bool:
    """Whether these mistakes do not all give the same answer to it."""
    wrong = {size: [name] for size, name in question.figure.slips} if question.figure else dict(question.mistakes)
    return len({frozenset(answer for answer, names in wrong.items() if name in names) for name in mistakes}) > 1


def evidence(question: Question, given: str | None) -> Evidence:
    """What an answer to a question tells of mistakes; nothing, where it is wrong in some other way, or none was given."""
    if given is None:
        return Evidence(frozenset(), frozenset())
    made = frozenset(question.may_be(given))
    return Evidence(made, shown_by(question) - made if made or question.is_right(given) else frozenset())


def steady(answers: Sequence[Evidence]) -> str | None:
    """The mistake that one who answers has made steadily, from his answers in their order.

    It may be behind each of the last wrong answers for which any is known, of which there are at least two, and no answer since the
    first of them is without it where it would have shown. `None` if there is no such mistake, or more than one.
    """
    wrong = [place for place, answer in enumerate(answers) if answer.made][-LOOKED_BACK:]
    if len(wrong) < ENOUGH:
        return None
    always = frozenset.intersection(*(answers[place].made for place in wrong))
    always -= frozenset().union(*(answer.avoided for answer in answers[wrong[0] :]))
    return next(iter(always)) if len(always) == 1 else None


def written(names: Iterable[str]) -> str:
    """Mistakes as they are kept in a file."""
    return OR.join(names)


def parted(text: str) -> tuple[str, ...]:
    """The mistakes that were `written`."""
    return tuple(text.split(OR)) if text else ()
