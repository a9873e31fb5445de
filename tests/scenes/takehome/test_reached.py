"""Whoever has only the film sees all that its steps speak of: what runs up comes to its speed, what stops stops, a field goes round."""

from __future__ import annotations

import re

import pytest

from scenes import catalogue
from scenes.commands.outputs.takehome import ENTRY, SECONDS
from scenes.lesson.lesson import Lesson, Step
from scenes.takehome.film import RATE, Film, record
from tests.scenes.lesson.built_in_lesson import built_in_lesson
from visual.host.recorded.one_file import one_file

LARGEST = 15e6  # bytes of the built-in lesson in one file
STILL = 0.015  # of the fastest speed shown, in a second: no longer on its way
OUT_OF_STEP = "More load than its pull-out torque: what does it do?"  # never comes to a speed: it slips pole after pole


@pytest.fixture(scope="module")
def made_once():
    """Not here: what a film brings is looked at."""


@pytest.fixture(scope="module")
def built_in() -> Film:
    return record(built_in_lesson(), SECONDS)


@pytest.fixture(scope="module")
def alone() -> Film:
    """Every scene as it is when nobody has set anything."""
    return record(Lesson("Alone", tuple(Step(name, {}, caption=name) for name in catalogue.NAMES)), SECONDS)


def shown(film: Film, place: int, name: str) -> list[float]:
    """A reading, by symbol or first words, as it stands there at each picture of a step; while it has no figure it is left out."""
    found, value = [], ""
    for message in (film.reels[place].begin, *film.reels[place].pictures):
        for one in message.get("readings", ()):
            if name in (one["symbol"], one["words"][: len(name)]):
                value = one["value"]
        if figure := re.match(r"[-−]?[\d.]+", value):
            found.append(float(figure[0].replace("−", "-")))
    return found


def places(film: Film, scene: str, **settings) -> list[int]:
    """The steps in that scene that run, with these settings."""
    wanted = [(step.scene, {name: step.settings.get(name) for name in settings}) for step in film.lesson.steps]
    return [place for place, step in enumerate(wanted) if step == (scene, settings)]


@pytest.mark.parametrize("made", ["built_in", "alone"])
def test_no_motor_is_left_on_its_way(made, request):
    film = request.getfixturevalue(made)
    looked_at = 0
    for place, step in enumerate(film.lesson.steps):
        speeds = shown(film, place, "n") if step.caption != OUT_OF_STEP else []
        if not speeds or not max(map(abs, speeds)):
            continue
        looked_at += 1
        assert abs(speeds[-1] - speeds[-1 - RATE]) <= STILL * max(map(abs, speeds)), (step.caption, speeds[-1 - RATE :])
    assert looked_at > 8


@pytest.mark.parametrize("made", ["built_in", "alone"])
def test_a_cage_that_is_free_comes_to_the_speed_at_which_it_carries_its_load(made, request):
    film = request.getfixturevalue(made)
    free = [place for place in places(film, "cage-rotor", rotor=None)]
    assert free
    for place in free:
        torque, load, speed = (shown(film, place, name)[-1] for name in ("T", "Tₗ", "n"))
        assert torque == pytest.approx(load, rel=0.03) and 0.8 * 3000 < speed < 3000


@pytest.mark.parametrize("made", ["built_in", "alone"])
def test_every_rotating_field_goes_round_once(made, request):
    film = request.getfixturevalue(made)
    turning = places(film, "turning-field")
    for place in turning:
        poles = int(film.lesson.steps[place].settings.get("poles", 2))
        angles = shown(film, place, "ωt")
        passed = sum((after - before) % 360 for before, after in zip(angles, angles[1:], strict=False))
        assert passed >= 360 * poles / 2, "electrical degrees"
    assert turning


@pytest.mark.parametrize("made", ["built_in", "alone"])
def test_a_lap_of_slip_can_be_counted(made, request):
    film = request.getfixturevalue(made)
    for place in places(film, "slip-and-speed"):
        assert max(shown(film, place, "laps of slip")) >= 1


def test_what_is_braked_comes_to_what_the_braking_leads_to(built_in, alone):
    """Two lines swapped and nothing opens: it ends at its speed the other way, and on its way there it stood. Direct current: it stands."""
    [plugged], [direct], [usual] = (
        places(built_in, "braking", zero=False),
        places(built_in, "braking", method="dc"),
        places(alone, "braking"),
    )
    speeds = shown(built_in, plugged, "n")
    assert min(speeds) < 100 and speeds[-1] > 2900
    assert shown(built_in, direct, "n")[-1] == shown(alone, usual, "n")[-1] == 0


def test_a_motor_is_put_together_once(built_in, alone):
    for film, [place] in ((built_in, places(built_in, "inside-a-motor", part=18)), (alone, places(alone, "inside-a-motor"))):
        apart = shown(film, place, "taken apart")
        assert apart[0] == 100 and min(apart) == 0


def test_the_built_in_lesson_keeps_to_its_size_and_no_step_lasts_long(built_in):
    assert max(len(reel.pictures) for reel in built_in.reels) <= 45 * RATE
    assert len(one_file("follow.html", ENTRY, "", {"steps": built_in.steps()}, built_in.reels)) < LARGEST
