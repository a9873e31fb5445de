"""`thumbwise ask` says of any set-up of any scene what the scene itself answers; each scene's own test file redoes the
answers independently."""

from __future__ import annotations

import json

import pytest

from scenes import catalogue
from scenes.__main__ import main
from scenes.bench.prediction import setup_of


@pytest.mark.parametrize("name", catalogue.NAMES)
def test_the_command_line_answers_as_the_scene_does(name, capsys):
    for seed in range(1, 9):
        scene = catalogue.scene_class(name)()
        scene.set_all(setup_of(scene, seed))
        scene.restart()
        given = [f"{control.name}={control.text(scene[control.name])}" for control in scene.controls]
        question = scene.question()
        assert main(["ask", name, *[part for pair in given for part in ("--set", pair)], "--predict", question.answer, "--json"]) == 0
        said = json.loads(capsys.readouterr().out)
        assert (said["question"], said["answer"], said["reason"]) == (question.text, question.answer, question.reason)
        assert said["right"] is True
