"""Captions of the lesson and the tours: each that claims a direction, a comparison or a number is held against the scene at 0, 1, 3
and 8 s of the page, by the relations themselves: needles round a wire and at rest along the sum of fields, F = I x B, E = B l v,
synchronous speed 120 f / p, star: a third of current and torque, reversal. None depends on the view.
"""

from __future__ import annotations

import re
from functools import cache

import pytest

from scenes import catalogue
from scenes.exhibit.tours import TOURS, tour_of
from tests.scenes.lesson.built_in_lesson import GIVEN, built_in_lesson
from tests.scenes.lesson.claims.captions import HEADINGS, LESSON, STOPS
from tests.scenes.lesson.claims.shown import Shown

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


STEPS = [step for step in GIVEN if not step.get("question")]
CAPTIONS = [step["caption"] for step in STEPS]


@cache
def shown_in(name: str) -> dict[str, Shown]:
    """Every step about that scene as it was shown, by its caption; a step that goes on goes on from the one before."""
    shown, scene, before = {}, None, None
    for step in built_in_lesson().steps:
        if step.scene == name:
            fresh = before is None or before.scene != name
            if fresh:
                scene = catalogue.scene_class(name)()
            if step.go_on and not fresh:
                step.change(scene)
            else:
                step.set_up(scene)
            if not step.question:
                shown[step.caption] = Shown(scene, step.hold)
        before = step
    return shown


def shown(place: int) -> Shown:
    return shown_in(STEPS[place]["scene"])[CAPTIONS[place]]


class Before:
    """What the caption before was shown with, worked out when a claim asks for it: it may be that of another scene."""

    def __init__(self, place: int):
        self.place = place

    def __getattr__(self, name: str):
        return getattr(shown(self.place), name)


def test_every_caption_is_looked_at():
    said = {step["caption"] for step in GIVEN if not step.get("question")}
    without = said - set(LESSON) - HEADINGS
    assert not without, f"claims/captions.py, LESSON, wants what each of these claims, as a check of what is shown: {without}"
    assert said == set(LESSON) | HEADINGS
    for words in STOPS:
        assert sum(words in stop.caption for stops in TOURS.values() for stop in stops) == 1, words


CLAIMED = [pytest.param(CAPTIONS.index(each), id=f"{STEPS[CAPTIONS.index(each)]['scene']} {each}") for each in CAPTIONS if LESSON.get(each)]


@pytest.mark.parametrize("place", CLAIMED)
def test_a_caption_of_the_lesson_is_true_at_0_1_3_and_8_seconds(place):
    LESSON[CAPTIONS[place]](shown(place), Before(max(0, place - 1)))


def test_fifty_turns_give_fifty_times_the_voltage():
    lesson = shown_in("moved-conductor")
    once, fifty = lesson["Twice as fast, twice the voltage."], lesson["Fifty turns in series, fifty times the voltage."]
    assert fifty.peaks["E"] / once.peaks["E"] == pytest.approx(50, rel=0.08)


def test_the_most_that_was_read_of_each_is_in_units_without_a_prefix():
    """E = N B l v, which are read in mV, mT, mm and m/s."""
    for caption, now in shown_in("moved-conductor").items():
        peaks = now.peaks
        assert peaks["E"] == pytest.approx(peaks["N"] * peaks["B"] * peaks["l"] * peaks["v"], rel=0.01), caption


@pytest.mark.parametrize("name", TOURS)
def test_a_stop_of_a_tour_is_true_at_0_1_3_and_8_seconds(name):
    scene = catalogue.scene_class(name)()
    before, stops = None, tour_of(scene)[:-1]
    claims = [[claim for words, claim in STOPS.items() if words in stop.caption] for stop in stops]
    for stop, claimed, next_claimed in zip(stops, claims, [*claims[1:], []], strict=True):
        scene.set_all(stop.settings)
        if stop.reverse:
            scene.reverse(stop.reverse)
        if stop.view:
            scene.look(stop.view)
        if stop.anew:
            scene.restart()
        if not claimed and not next_claimed:  # nothing to look at: it only runs on
            for _ in range(20):
                scene.step(0.4 / scene.slowness)
            continue
        now = Shown(scene)
        for claim in claimed:
            claim(now, before)
        before = now


def test_no_caption_depends_on_where_one_looks_from():
    for text in [step["caption"] for step in GIVEN] + [stop.caption for stops in TOURS.values() for stop in stops]:
        assert not OF_A_VIEW.search(text), text
        assert not FORBIDDEN.search(text), text


def test_no_note_of_the_lesson_uses_what_no_workshop_says():
    everything = "\n".join(step["notes"] for step in GIVEN)
    assert not FORBIDDEN.search(everything)
    assert "does nothing" not in everything and "installed today" not in everything and "starting current follow" not in everything
