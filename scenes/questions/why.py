"""Why: the true reason among reasons that are false of this very set-up, each of them that of a usual mistake where there is one."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass

from scenes.questions.kinds import Kind, SetUp
from scenes.questions.mistakes import ELECTRONS, FINGERS, OTHER_HAND
from scenes.scene.question import Question

MOST = 4  # reasons offered


@dataclass(frozen=True)
class Reasons:
    """The question, the true reason, false ones (words, mistake or ""), and what is told afterwards."""

    asks: str
    true: str
    false: Sequence[tuple[str, str]]
    told: str


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
        return Question(found.asks, tuple(choices), found.true, found.told).of_kind(name, choices, mistakes)

    return Kind(name, words, put, **({"even": False} | more))


def hands(side: str, first: str, second: str, back: str, *, given: str = "second") -> tuple[str, list[tuple[str, str]]]:
    """How a hand is held for Fleming's rules, true and with each usual mistake: `first` the field, `second` what else is given (the
    current for the left hand, the motion for the right), `back` its opposite, all in words."""
    other = "right" if side == "left" else "left"
    with_it = {"left": "second finger", "right": "thumb"}

    def held(hand: str, field: str, finger: str) -> str:
        return f"{hand} hand, first finger {field}, {with_it[side]} {finger}"

    wrong = [(held(other, first, second), OTHER_HAND), (held(side, second, first), FINGERS)]
    if side == "left":
        wrong.append((held(side, first, back), ELECTRONS))
    wrong.append((held(other, first, back), ""))
    return held(side, first, second), wrong


def statements(asks: str, template: str, right: Sequence[object], wrong: Sequence[tuple[Sequence[object], str]], told: str) -> Reasons:
    """Reasons of one form: the template filled with what is so, and with what mistakes take for it."""
    return Reasons(asks, template.format(*right), [(template.format(*each), mistake) for each, mistake in wrong], told)
