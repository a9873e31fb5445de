"""Why: the true reason among reasons that are false of this very set-up, each of them that of a usual mistake where there is one."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, field

import numpy as np

from physics.directions import Hand
from scenes.questions.kinds import Kind, SetUp
from scenes.questions.mistakes import ELECTRONS, FINGERS, OTHER_HAND
from scenes.scene.question import Question

MOST = 4  # reasons offered


@dataclass(frozen=True)
class Reasons:
    """The question, the true reason, false ones (words, mistake or ""), what is told afterwards, and what speaks `against` a false
    one, by its words."""

    asks: str
    true: str
    false: Sequence[tuple[str, str]]
    told: str
    against: Mapping[str, str] = field(default_factory=dict)


def why(reasons: Callable[[SetUp], Reasons | None], *, name: str = "why", words: str = "why it is so", **more) -> Kind:
    """Which reason is the true one; named mistakes come before others, and the same words only once."""

    def put(setup: SetUp) -> Question | None:
        found = reasons(setup)
        if found is None:
            return None
        mistakes: dict[str, list[str]] = {}
        for words_of_it, mistake in sorted(found.false, key=lambda each: not each[1]):
            if words_of_it != found.true:
                mistakes.setdefault(words_of_it, []).extend([mistake] if mistake else [])
        offered = [found.true, *list(mistakes)[: MOST - 1]]
        if len(offered) < 3:
            return None
        setup.dice.shuffle(offered)
        choices = [(each, each) for each in offered]
        against = tuple((each, found.against[each]) for each in offered if each in found.against)
        return Question(found.asks, tuple(choices), found.true, found.told, against=against).of_kind(name, choices, mistakes)

    return Kind(name, words, put, **({"even": False} | more))


def hands(asks: str, shows: str, rule: Hand, say: Callable[[np.ndarray], str], told: str) -> Reasons:
    """How a hand is held for one of Fleming's rules, truly and by each usual mistake, all in words.

    asks   the beginning of the question, which tells of field and current or motion;  shows  the end of it: what the hand shows
    rule   the hand that the rule asks for;  say  puts a direction in words
    """
    first = rule.first_finger
    with_it, what, along = ("second finger", "current", rule.second_finger) if rule.side == "left" else ("thumb", "motion", rule.thumb)
    answers, other = ("thumb", "right") if rule.side == "left" else ("second finger", "left")

    def held(side: str, first: np.ndarray, finger: np.ndarray) -> str:
        return f"{side} hand, first finger {say(first)}, {with_it} {say(finger)}"

    exchanged, turned = held(rule.side, along, first), held(other, first, -along)
    wrong = [(held(other, first, along), OTHER_HAND), (exchanged, FINGERS), (turned, "")]
    if rule.side == "left":
        wrong.append((held(rule.side, first, -along), ELECTRONS))
    of = f"the {what}" if say(rule.given) == say(along) else f"the part of the {what} across it"
    return Reasons(
        f"{asks} First finger along the field, {with_it} along {of}: which hand, held how, shows with its {answers} {shows}?",
        held(rule.side, first, along),
        wrong,
        told,
        {
            exchanged: f"In this answer the first finger lies along the {what}, the {with_it} along the field.",
            turned: f"Its {answers} does point that way, but its {with_it} points against the {what}.",
        },
    )


def statements(asks: str, template: str, right: Sequence[object], wrong: Sequence[tuple[Sequence[object], str]], told: str) -> Reasons:
    """Reasons of one form: the template filled with what is so, and with what mistakes take for it."""
    return Reasons(asks, template.format(*right), [(template.format(*each), mistake) for each, mistake in wrong], told)
