"""While a question waits the page is told nothing that alone answers it: no figure, scale, mark or sentence."""

from __future__ import annotations

from collections import Counter, defaultdict

import pytest

from scenes import catalogue
from scenes.bench.bench import Bench
from scenes.scene.state import number
from visual.host.server import Host

QUESTIONS, OF_LONG_RUNS = 120, {"synchronous-motor": 40}  # the answer to one of these takes ten times as long to work out
# What the question itself says may be read: that a wire carries no current, and so has no field and is not pushed by the Earth's
# field either, that the magnet is at standstill, that a phase is lost (the waves of the lines are what one is to think with), or for how
# many poles a winding is connected: terminals and scale go with that.
GIVEN = {
    "field-round-a-wire": ("reading I ", "reading B ", "formula B ", "reading its direction", "scale"),
    "two-wires": ("reading I₁", "reading I₂", "reading Fₑ", "formula I", "formula Fₑ"),
    "alternator": ("reading n ", "formula n ", "unit of speed: at standstill"),
    "turning-field": ("mark L",),
    "changing-speed": ("reading  terminals supplied", "scale B"),
}
GIVEN_WHATEVER_IT_IS = ("mark", "unit of speed: at standstill", "reading  terminals supplied", "scale")  # of others a zero alone


@pytest.fixture(scope="module")
def bench():
    return Bench(Host())


def kind(text: str) -> str:
    """The sign of a figure, nothing of its size; any other text as it is."""
    value = number(text)
    return text if isinstance(value, str) else "0" if value == 0 else "+" if value > 0 else "-"


def told(said: dict):
    """All that is told beside settings and question, each under its name."""
    for reading in said["readings"]:
        yield f"reading {reading['symbol']} {reading['words']}", kind(reading["value"])
        yield f"unit of {reading['words']}", reading["unit"]
        yield (
            f"formula {reading['symbol']} {reading['words']}",
            "none" if not reading["formula"] else "= 0" if "= 0" in reading["formula"] else "some",
        )
    for letter, scale in said["scales"].items():
        yield f"scale {letter}", scale
    for mark in said["marks"]:
        yield f"mark {mark['name']}", kind(str(mark["y"]))
    yield "curves", [line["name"] for line in (said["plot"] or {"lines": ()})["lines"]].__repr__()
    yield "says", said["says"]


@pytest.mark.parametrize("name", catalogue.NAMES)
def test_nothing_that_is_told_goes_with_one_answer_alone(bench, name):
    bench.receive({"do": "scene", "name": name})
    seen, answers, offered = defaultdict(lambda: defaultdict(Counter)), Counter(), Counter()
    for seed in range(1, 1 + OF_LONG_RUNS.get(name, QUESTIONS)):
        bench.receive({"do": "ask", "seed": seed})
        answer = bench.prediction.question.answer
        answers[answer] += 1
        offered.update(value for value, _ in bench.prediction.question.choices)
        for what, value in told(bench.host.published):
            seen[what][value][answer] += 1
        assert bench.host.published["question"]["answer"] is None and bench.host.published["question"]["reason"] is None
    assert len(answers) >= 3
    amiss = {}  # what gives the answer away, unless it is among what the question itself tells (GIVEN)
    for what, values in seen.items():
        for value, counts in values.items():
            if (value in ("0", "none") or what.startswith(GIVEN_WHATEVER_IT_IS)) and what.startswith(GIVEN.get(name, ())):
                continue
            (answer, often), of = counts.most_common(1)[0], counts.total()
            if of >= 8 and often >= 0.95 * of and answers[answer] <= 0.75 * offered[answer]:
                amiss[what] = f"{value!r} tells {answer!r}"
    assert not amiss, f'hide it until the answer is given, or if the question says it, GIVEN wants "{name}": {tuple(amiss)}, ({amiss})'


def test_a_set_up_that_is_changed_while_it_waits_is_asked_from_its_start(bench):
    bench.receive({"do": "scene", "name": "moved-conductor"})
    bench.receive({"do": "ask", "seed": 4})
    for place in (90.0, -60.0, 30.0):
        bench.receive({"do": "set", "name": "way", "value": "across"})
        bench.receive({"do": "set", "name": "place", "value": place})
        text = bench.prediction.question.text
        assert ("to the right" if place > 0 else "to the left") in text and bench.prediction.waiting


@pytest.mark.parametrize("name", ["pushed-conductor", "alternator", "cage-rotor", "slip-and-speed"])
def test_what_ran_before_a_question_runs_after_it_but_for_an_instant_whose_figure_was_asked(name):
    bench = Bench(Host(), name)

    def answered(**asked) -> tuple[bool, bool]:
        """Whether it runs then, and whether it is said that an instant is held."""
        bench.receive({"do": "ask", "seed": 5, **asked})
        assert bench.host.published["bench"]["held"] and not bench.prediction.question.answer == ""
        bench.receive({"do": "answer", "choice": bench.prediction.question.answer})
        assert not bench.prediction.waiting
        told = bench.host.published["bench"]
        return told["running"], "press Run" in told["held"]

    assert answered() == (True, False)
    figure = next(kind for kind in bench.scene.kinds if kind.name == "figure")
    of_an_instant = name != "slip-and-speed"  # there it is one that the machine comes to
    assert answered(kind=figure.name) == (not of_an_instant, of_an_instant)
    time = bench.scene.state
    bench.frame(0.05)
    assert (bench.scene.state == time) is of_an_instant
    bench.receive({"do": "enough"})
    assert bench.host.published["bench"]["running"] and not bench.host.published["bench"]["held"], "its question is put away: it runs on"
    answered(kind=figure.name)
    bench.receive({"do": "run", "on": True})
    bench.receive({"do": "run", "on": False})
    assert not bench.host.published["bench"]["held"], "held by hand, later"
    answered(kind=figure.name)
    bench.receive({"do": "scene", "name": "two-wires"})
    assert bench.host.published["bench"]["running"] and not bench.host.published["bench"]["held"]
