"""Directions and turnings in words, from every ready view of every scene, against the tests' own geometry."""

from __future__ import annotations

import random

import pytest

from scenes import catalogue
from scenes.scene.described import described
from tests.oracle import cross, dot, seen, size, turning, unit

OPPOSITE = (
    ("to the right", "to the left"),
    ("up", "down"),
    ("toward you", "away from you"),
    ("toward the top of the picture", "toward the bottom of the picture"),
)
SCENES = {name: catalogue.scene_class(name)() for name in catalogue.NAMES}
VIEWS = [(name, view) for name, scene in SCENES.items() for view in scene.views]


@pytest.mark.parametrize("name, view", VIEWS, ids=lambda each: getattr(each, "name", each))
def test_words_of_a_direction_are_those_of_the_picture(name, view):
    dice = random.Random(view.words)
    ways = [tuple(dice.uniform(-1, 1) for _ in range(3)) for _ in range(20)]
    ways += [tuple(float(sign * (axis == k)) for k in range(3)) for axis in range(3) for sign in (1, -1)]
    for way in [*ways, (0.0, 0.0, 0.0)]:
        assert view.directions.words(way) == seen(way, view.forward, view.up)


@pytest.mark.parametrize("name, view", VIEWS, ids=lambda each: getattr(each, "name", each))
def test_the_triad_says_of_each_axis_what_a_sentence_says(name, view):
    axes = dict(view.directions.axes())
    told = next(each for each in described(SCENES[name])["views"] if each["name"] == view.name)
    assert len(axes) == 6 and {each["words"]: each["axis"] for each in told["directions"]} == axes
    assert (told["forward"], told["up"], told["words"]) == (view.forward, view.up, view.words)
    for words, axis in axes.items():
        assert size(axis) == 1 and seen(axis, view.forward, view.up) == words
    for one, other in OPPOSITE:
        assert (one in axes) == (other in axes)
        if one in axes:
            assert axes[one] == pytest.approx([-part for part in axes[other]])
    # in the picture each lies on the half that its words name: right of the middle, above it, nearer than it
    right = cross(unit(view.forward), view.up)
    halves = {
        "to the right": right,
        "up": cross(right, unit(view.forward)),
        "toward you": tuple(-part for part in view.forward),
        "toward the top of the picture": cross(right, unit(view.forward)),
    }
    for words, half in halves.items():
        assert words not in axes or dot(axes[words], half) > 0


@pytest.mark.parametrize("name, view", VIEWS, ids=lambda each: getattr(each, "name", each))
def test_a_turning_is_told_from_the_end_one_looks_at(name, view):
    side = 1 if view.forward[2] < 0 else -1  # one who looks along -z stands at +z, before the drive end
    assert view.side == side and view.end == ("the drive end" if side > 0 else "the non-drive end")
    for rate in (3.0, -3.0, 0.0, 1e-12):
        assert view.turning(rate) == turning(rate if abs(rate) > 1e-9 else 0.0, side)


def test_the_words_of_the_front_are_the_benchs_own():
    """Axes: x right, y up, z toward the viewer."""
    from scenes.scene.seen import directions_of

    front = dict(directions_of((0.0, 0.0, -1.0), (0.0, 1.0, 0.0)).axes())
    assert front == {
        "to the right": (1, 0, 0),
        "to the left": (-1, 0, 0),
        "up": (0, 1, 0),
        "down": (0, -1, 0),
        "toward you": (0, 0, 1),
        "away from you": (0, 0, -1),
    }
    above = dict(directions_of((0.0, -1.0, -0.01), (0.0, 1.0, 0.0)).axes())
    assert above["toward you"] == (0, 1, 0) and above["toward the bottom of the picture"] == (0, 0, 1)


@pytest.mark.parametrize("name", SCENES)
def test_what_does_not_change_is_told_whole(name):
    scene, data = SCENES[name], described(SCENES[name])
    assert (data["name"], data["title"], data["principle"], data["caution"], data["narration"]) == (
        scene.name,
        scene.title,
        scene.principle,
        scene.caution,
        scene.narration,
    )
    assert tuple(data["leaves_out"]) == scene.leaves_out
    assert [(each["letter"], each["words"], each["colour"], each["unit"]) for each in data["arrows"]] == [
        (key.letter, key.words, key.colour, key.unit) for key in scene.arrows
    ]
    for told, control in zip(data["controls"], scene.controls, strict=True):
        assert (told["name"], told["words"], told["unit"], told["role"], told["default"]) == (
            control.name,
            control.words,
            control.unit,
            control.role,
            control.default,
        )
        if told["kind"] == "number":
            assert told["low"] == control.low < told["high"] == control.high and told["step"] == control.step > 0
        if told["kind"] == "choice":
            assert [(each["value"], each["words"]) for each in told["choices"]] == [tuple(each) for each in control.choices]


@pytest.mark.parametrize("name", SCENES)
def test_every_scene_says_what_it_leaves_out(name):
    scene = SCENES[name]
    assert scene.leaves_out and all(len(each) > 20 and each[-1] == "." for each in scene.leaves_out)
