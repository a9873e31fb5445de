"""Each scene's kinds of question: which there are, and that a seed gives the same one wherever it is put."""

from __future__ import annotations

import json
import random

import pytest

from scenes import catalogue
from scenes.__main__ import main
from scenes.questions.kinds import about, as_it_stands, draw, kind_of
from scenes.scene.question import FORWARD
from tests.scenes.questions.drawn import by_hand, drawn, scene

WAYS = {"choice", "typed", "pressed", "drawn"}


def test_every_scene_lists_at_least_five_kinds(capsys):
    assert main(["scenes", "--json"]) == 0
    listed = {each["name"]: each["questions"] for each in json.loads(capsys.readouterr().out)}
    assert set(listed) == set(catalogue.NAMES)
    for name, kinds in listed.items():
        assert len(kinds) >= 5 and kinds[0]["name"] == FORWARD, name
        assert len({kind["name"] for kind in kinds}) == len(kinds) and {kind["answered"] for kind in kinds} <= WAYS
        assert all(kind["words"] and kind["words"][0].islower() for kind in kinds)


@pytest.mark.parametrize("name", catalogue.NAMES)
def test_a_question_can_be_answered_as_it_is_listed(name):
    for put in drawn(name):
        question, listed = put.question, kind_of(scene(name), put.kind)
        assert question.kind == put.kind and question.answered == listed.answered
        assert bool(question.figure) is not bool(question.choices)
        assert question.text.rstrip().endswith("?") or question.text.rstrip().endswith("(µ₀ = 1.257 µT m/A)") or "µ₀ =" in question.text
        assert question.is_right(question.taken(question.answer)) and question.may_be(question.answer) == ()
        values = [value for value, _ in question.choices]
        assert len(set(values)) == len(values) and len({words for _, words in question.choices}) == len(values)
        for value, mistakes in question.mistakes:
            assert value in values and value != question.answer and mistakes


@pytest.mark.parametrize("name", catalogue.NAMES)
def test_a_seed_gives_the_same_question_again_and_in_every_view_the_same_answer(name):
    one, other = scene(name), catalogue.scene_class(name)()
    for kind in one.kinds:
        first = draw(one, kind, 4)
        again = draw(other, kind, 4)
        assert (first.settings, first.question(one).text) == (again.settings, again.question(other).text)
        seen = first.question(one)
        for view in one.views:
            other.look(view.name)
            assert again.question(other).answered == seen.answered
        other.look(one.views[0].name)


@pytest.mark.parametrize("name", catalogue.NAMES)
def test_seeds_beside_each_other_have_other_questions(name):
    """Where a kind has only two, that of an even seed is another than the one before."""
    one = scene(name)
    for kind in one.kinds:
        asked = [draw(one, kind, seed).question(one) for seed in range(1, 13)]
        told = [(question.text, question.words_of(question.answer)) for question in asked]
        several = len(set(told)) > 2
        assert all(told[at] != told[at + 1] for at in range(0, 11, 1 if several else 2)), (kind.name, told)


def test_what_is_hidden_is_named_neither_in_words_nor_figures():
    """Asked for the poles, the text must not give them; asked for the frequency, neither."""
    for name, kind, said in (
        ("alternator", "poles", " poles"),
        ("turning-field", "poles", " poles has"),
        ("changing-speed", "frequency", " Hz"),
    ):
        for put in drawn(name):
            if put.kind == kind:
                hidden = put.settings["poles" if kind == "poles" else "frequency"]
                assert f"{float(hidden):g}{said}" not in put.question.text


def test_a_kind_that_cannot_be_put_to_a_set_up_is_told_in_a_sentence():
    pushed = scene("pushed-conductor")
    along = pushed.settings | {"tilt": 90.0}
    with pytest.raises(ValueError, match="would have no clear answer in this set-up"):
        about(pushed, kind_of(pushed, "why"), along).question(pushed)
    with pytest.raises(
        ValueError, match="pushed-conductor has no kind of question 'whi'; it has forward, current, poles, figure, compare, why."
    ):
        kind_of(pushed, "whi")


@pytest.mark.parametrize("name", catalogue.NAMES)
def test_what_a_kind_always_brings_is_so_in_each_of_its_questions_whatever_somebody_has_chosen(name):
    """A kind's words may rest on what all its own set-ups have in common, as "nothing but the bearings has friction" does; not on what
    it says itself may be anything: that its answers hold then too is tried with these very questions wherever they are worked out."""
    of, dice = scene(name), random.Random(7)
    for put in by_hand(name):
        kind = kind_of(of, put.kind)
        own = [kind.setup(dice, of.defaults | of.random_setup(dice)) for _ in range(200)]
        for control in set.intersection(*map(set, own)) - set(kind.aside):
            needs = of.by_name[control].only_with
            if len({each[control] for each in own}) == 1 and (needs is None or put.settings[needs[0]] == needs[1]):
                assert put.settings[control] == own[0][control], (put.kind, control, put.question.text)


def test_a_setting_that_does_not_go_with_a_kind_is_told_with_what_it_needs():
    pushed, braking = scene("pushed-conductor"), scene("braking")
    for ask in (
        lambda kind: draw(braking, kind, 3, {"friction": 30.0}),
        lambda kind: as_it_stands(braking, kind, braking.defaults | {"friction": 30.0}),
    ):
        with pytest.raises(ValueError, match="by which method.*Friction of the load: 0 % of rated torque, not 30 % of rated torque"):
            ask(kind_of(braking, "method"))
    with pytest.raises(ValueError, match="Switch closed: on, not off"):
        as_it_stands(pushed, kind_of(pushed, "figure"), pushed.defaults | {"switch": False})


@pytest.mark.parametrize("name", catalogue.NAMES)
def test_the_figures_of_a_scenes_own_start_keep_no_kind_from_being_put(name):
    """Another machine may be needed, or another way of driving it; not another load. Where friction would take a part of the heat that
    is told, it has to be none."""
    of = scene(name)
    numbers = [control.words for control in of.controls if control.kind == "number"]
    for kind in of.kinds:
        try:
            as_it_stands(of, kind, of.defaults)
        except ValueError as refused:
            said = str(refused)
            assert (name, kind.name) == ("braking", "method") or not any(f" needs {words}: " in said for words in numbers), said


def test_a_question_about_what_stands_is_about_just_that_and_sets_only_what_is_asked():
    for name, kind, asked in (("pushed-conductor", "figure", {}), ("one-phase", "trips", {"asked": "trips"})):
        of = scene(name)
        stands = of.defaults | ({"tilt": 40.0, "current": -7.0} if not asked else {})
        assert as_it_stands(of, kind_of(of, kind), stands).settings == stands | asked
    with pytest.raises(ValueError, match="needs Question about"):
        as_it_stands(of, kind_of(of, "trips"), of.defaults, {"asked": "turns"})
