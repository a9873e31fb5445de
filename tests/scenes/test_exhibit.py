"""The unattended loop: it goes round by itself, a visitor takes it over for a while, and nothing of that stays."""

from __future__ import annotations

import pytest

from scenes import catalogue
from scenes.__main__ import main
from scenes.exhibit import ExhibitBench, stops_of
from visual.host.server import Host


@pytest.fixture
def exhibit():
    return ExhibitBench(Host(), minutes_per_scene=0.1, quiet=5)


def pass_time(exhibit, seconds: float) -> None:
    for _ in range(round(seconds / 0.1)):
        exhibit.frame(0.1)


def test_the_loop_shows_every_scene_and_begins_again(exhibit):
    seen = []
    for _ in range(len(catalogue.NAMES) + 1):
        seen.append(exhibit.scene.name)
        pass_time(exhibit, 6.3)
    assert seen == [*catalogue.NAMES, catalogue.NAMES[0]]


def test_each_scene_has_its_views_and_what_can_be_reversed(exhibit):
    for scene in (kind() for kind in catalogue.LESSON):
        stops = stops_of(scene)
        assert {stop.view for stop in stops} == {view.name for view in scene.views}
        assert {stop.reverse for stop in stops} - {""} == {control.role for control in scene.controls} - {""}
        assert all(stop.caption for stop in stops)


def test_a_visitor_takes_over_and_is_forgotten_after_a_quiet_while(exhibit):
    exhibit.begin(1)
    usual = dict(exhibit.scene.settings)
    exhibit.take({"do": "reverse", "what": "current"})
    assert exhibit.visited and exhibit.scene["current"] == -usual["current"]
    pass_time(exhibit, 4.5)
    assert exhibit.scene["current"] == -usual["current"], "the loop goes on under a visitor's hands"
    pass_time(exhibit, 1.0)
    assert not exhibit.visited and exhibit.scene.settings == usual
    assert exhibit.host.said["exhibit"]["visited"] is False


@pytest.mark.parametrize(
    "message",
    [
        {"do": "open", "address": "scene=starting"}, {"do": "set", "name": "current", "value": 1}, {"do": "run", "on": False},
        {"do": "ask"}, {"do": "scene", "name": "starting"}, {"do": "answers", "shown": False}, {"do": "view", "name": "side"},
        {"do": "reverse", "what": "weather"}, {"do": "reverse"}, {"do": "enough"}, {"do": "nothing"},
    ],
)
def test_all_else_is_passed_over_without_a_word(exhibit, message):
    exhibit.begin(1)
    before = dict(exhibit.scene.settings), exhibit.scene.name, exhibit.running, exhibit.scene.view
    exhibit.take(message)
    assert (dict(exhibit.scene.settings), exhibit.scene.name, exhibit.running, exhibit.scene.view) == before
    assert not exhibit.host.said.get("notice", {}).get("text")


@pytest.mark.parametrize("wrong", [["--minutes-per-scene", "0"], ["--minutes-per-scene", "long"], ["--quiet-seconds", "1e9"]])
def test_times_that_cannot_be_are_told(wrong, capsys):
    assert main(["exhibit", *wrong]) == 2
    said = capsys.readouterr().err
    assert said.startswith(f"thumbwise: {wrong[0]} takes from") and said.count("\n") == 1
