"""Back from the result to the cause: the result is told, one control is hidden, and its value is asked for."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from typing import Any

from scenes.questions.kinds import Kind, Mistaken, SetUp, no_mistakes
from scenes.scene.question import Question

MOST = 4  # values offered


def backward(
    name: str,
    words: str,
    control: str,
    *,
    asks: Callable[[SetUp, str], str],
    says: Callable[[SetUp], str],
    values: Callable[[SetUp], Sequence[Any]] | None = None,
    hidden: Any,
    result: Callable[[SetUp], Question] = SetUp.question,
    mistaken: Mistaken = no_mistakes,
    because: Callable[[SetUp], str] | None = None,
    most: int = MOST,
    **more,
) -> Kind:
    """Which value the control must have for the result.

    asks      the question, from the set-up and the result in words
    says      a value in words, from the set-up with it
    values    those that may be asked about, without it every choice, or a number and its negative; all that give the same result but
              for the right one are left out
    hidden    the value that the picture shows while it is asked
    result    the question whose answer is the result;  mistaken  where usual mistakes would lead from a set-up
    because   the reason, from the right set-up; without it that of the result
    most      values that are offered
    """

    def put(setup: SetUp) -> Question | None:
        own = result(setup)
        asked_about = values(setup) if values else _all_values(setup, control)
        others = [setup.other(**{control: value}) for value in asked_about if value != setup.settings[control]]
        wrong = [each for each in others if result(each).answer != own.answer]
        setup.dice.shuffle(wrong)
        offered = [setup, *wrong[: most - 1]]
        if len(offered) < 2:
            return None
        said = {str(each.settings[control]): says(each) for each in offered}
        mistakes = {
            str(each.settings[control]): [mistake for mistake, leads_to in mistaken(each).items() if leads_to == own.answer]
            for each in offered[1:]
        }
        question = Question(
            asks(setup, dict(own.choices)[own.answer]),
            tuple(said.items()),
            str(setup.settings[control]),
            because(setup) if because else own.reason,
        )
        return question.of_kind(name, setup.shuffled(said.items()), mistakes)

    rest: dict[str, Any] = {"hides": {control: hidden}, "even": False}
    return Kind(name, words, put, **(rest | more))


def _all_values(setup: SetUp, control: str) -> Sequence[Any]:
    of, value = setup.scene.by_name[control], setup.settings[control]
    return [name for name, _ in of.choices] if of.kind == "choice" else (value, -value)
