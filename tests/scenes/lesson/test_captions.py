"""Captions of the lesson and the tours: each that claims a direction, a comparison or a number is held against the scene at 0, 1, 3
and 8 s of the page, by the relations themselves: needles round a wire and at rest along the sum of fields, F = I x B, E = B l v,
synchronous speed 120 f / p, star: a third of current and torque, reversal. None depends on the view.
"""

from __future__ import annotations

import re

import pytest

from scenes import catalogue
from scenes.exhibit.tours import TOURS, tour_of
from scenes.lesson.lesson import built_in, read
from tests.scenes.lesson.claims import HEADINGS, LESSON, STOPS, Shown

STEPS = read(built_in(), "").steps


# words that are true from one side only
OF_A_VIEW = re.compile(
    r"to the (left|right)|(the|on the) (left|right) (wire|one|side)|toward(s)? you|away from you|"
    r"\bup(ward)?s?\b(?! (to|on))|\bdown(ward)?s?\b|sideways|\bin front\b",
    re.I,
)
FORBIDDEN = re.compile(
    r"turning field|turns back|exchange|\bbelts?\b|\bcrests?\b|\bpush(ed|es)?\b|seen from here|"
    r"line is lost|on the lines|stand(s|ing) (torque|current)|"
    r"changes over|hangs at|\bof rated\b|periods? in a turn|magnet wheel|other end\b(?! of)|even field",
    re.I,
)


@pytest.fixture(scope="module")
def lesson():
    """Every step as it was shown, by its caption; a step that goes on goes on from the one before."""
    shown, scene, steps = {}, None, {}
    for step in STEPS:
        fresh = scene is None or scene.name != step.scene
        if fresh:
            scene = catalogue.scene_class(step.scene)()
        if step.go_on and not fresh:
            step.change(scene)
        else:
            step.set_up(scene)
        if not step.question:
            shown[step.caption] = Shown(scene, step.hold)
            steps[step.caption] = len(steps)
    return shown


def test_every_caption_is_looked_at():
    said = {step.caption for step in STEPS if not step.question}
    assert said == set(LESSON) | HEADINGS
    for words in STOPS:
        assert sum(words in stop.caption for stops in TOURS.values() for stop in stops) == 1, words


@pytest.mark.parametrize("caption", [caption for caption, claim in LESSON.items() if claim])
def test_a_caption_of_the_lesson_is_true_at_0_1_3_and_8_seconds(lesson, caption):
    captions = list(lesson)
    before = lesson[captions[max(0, captions.index(caption) - 1)]]
    LESSON[caption](lesson[caption], before)


def test_fifty_turns_give_fifty_times_the_voltage(lesson):
    once = next(step for step in STEPS if step.caption == "Twice as fast, twice the voltage.")
    assert lesson["Fifty turns in series, fifty times the voltage."].peaks["E"] / lesson[once.caption].peaks["E"] == pytest.approx(
        50, rel=0.08
    )


@pytest.mark.parametrize("name", TOURS)
def test_a_stop_of_a_tour_is_true_at_0_1_3_and_8_seconds(name):
    scene = catalogue.scene_class(name)()
    before = None
    for stop in tour_of(scene)[:-1]:
        scene.set_all(stop.settings)
        if stop.reverse:
            scene.reverse(stop.reverse)
        if stop.view:
            scene.look(stop.view)
        if stop.anew:
            scene.restart()
        now = Shown(scene)
        for words, claim in STOPS.items():
            if words in stop.caption:
                claim(now, before)
        before = now


@pytest.mark.parametrize("text", sorted({step.caption for step in STEPS} | {stop.caption for stops in TOURS.values() for stop in stops}))
def test_no_caption_depends_on_where_one_looks_from(text):
    assert not OF_A_VIEW.search(text), text
    assert not FORBIDDEN.search(text), text


def test_no_note_of_the_lesson_uses_what_no_workshop_says():
    for step in STEPS:
        assert not FORBIDDEN.search(step.notes), step.notes
    everything = "\n".join(step.notes for step in STEPS)
    assert "does nothing" not in everything and "installed today" not in everything and "starting current follow" not in everything
