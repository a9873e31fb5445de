"""The lesson: the built-in one can be given as it stands, and what is wrong with another is told with its line."""

from __future__ import annotations

import pytest

from scenes import catalogue
from scenes.__main__ import main
from scenes.lesson import LessonError, built_in, read
from scenes.lesson_bench import LessonBench
from scenes.prediction import Prediction
from visual.host.server import Host

HEAD = 'title = "t"\n\n[[step]]\nscene = "pushed-conductor"\n'


def test_the_built_in_lesson_covers_every_scene_in_order_in_40_to_60_steps():
    lesson = read(built_in(), "built in")
    assert 40 <= len(lesson.steps) <= 60
    order = list(dict.fromkeys(step.scene for step in lesson.steps))
    assert order == list(catalogue.NAMES)
    for step in lesson.steps:
        assert 8 <= len(step.caption) <= 90 and step.notes
    assert sum(bool(step.ask) for step in lesson.steps) >= 8


@pytest.mark.parametrize("number", range(1, len(read(built_in(), "").steps) + 1))
def test_every_step_can_be_set_up_and_its_question_answered(number):
    step = read(built_in(), "").steps[number - 1]
    scene = catalogue.scene_class(step.scene)()
    step.set_up(scene)
    if step.ask:
        prediction = Prediction()
        if step.ask is True:
            prediction.ask_present(scene)
        else:
            prediction.ask(scene, step.ask)
        assert prediction.answer(prediction.question.answer) is True
    scene.step(0.03)
    assert scene.readings()


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("", "line 1: a lesson needs at least one [[step]]."),
        ('title = "t"\n[[step]\n', "line 2: "),
        (HEAD + "caption = no quotes\n", "line 5: "),
        ('titel = "t"\n' + HEAD, "line 1: a lesson has a title and steps, not 'titel'."),
        ("title = 5\n[[step]]\nscene = 'starting'\n", "line 1: title takes a text in quotes."),
        (HEAD + 'captoin = "x"\n', "line 5: a step has no 'captoin'; did you mean caption?"),
        (HEAD + "caption = 3\n", "line 5: caption takes a text in quotes, not 3."),
        (HEAD + 'hold = "yes"\n', "line 5: hold takes true or false, not 'yes'."),
        (HEAD + "set = { current = 99 }\n", "line 5: current takes a number from -20 to 20 A, not 99."),
        (HEAD + "set = { curent = 9 }\n", "line 5: pushed-conductor has no control 'curent'; it has switch, current"),
        (HEAD + "[step.set]\nfield = 'left'\n", "line 5: field takes one of up, down, not 'left'."),
        (HEAD + 'view = "inside"\n', "line 5: pushed-conductor is seen from corner, front, side, not 'inside'."),
        (HEAD + "ask = 0\n", "line 5: A question's number goes from 1 to 9999, not '0'."),
        (HEAD + "ask = 'yes'\n", "line 5: ask takes true, or the number of a question, not 'yes'."),
        ("title = 't'\n[[step]]\ncaption = 'c'\n", "line 2: a step needs a scene."),
        (HEAD + "\n[[step]]\n\nscene = 'pushed-conducter'\n", "line 8: There is no scene 'pushed-conducter'; did you mean pushed-conductor?"),
    ],
)
def test_a_bad_lesson_is_told_with_file_and_line(text, said, tmp_path, capsys):
    with pytest.raises(LessonError) as wrong:
        read(text, "mine.toml")
    assert str(wrong.value).startswith("mine.toml, " + said) and "\n" not in str(wrong.value)
    file = tmp_path / "mine.toml"
    file.write_text(text)
    assert main(["lesson", str(file), "--notes"]) == 2
    assert capsys.readouterr().err.startswith(f"thumbwise: {file}, line ")


def test_files_that_are_not_there_or_no_text_or_there_already(tmp_path, capsys):
    assert main(["lesson", str(tmp_path / "none.toml")]) == 2
    assert "cannot be read: No such file" in capsys.readouterr().err
    (tmp_path / "binary.toml").write_bytes(b"\xff\xfe\x00")
    assert main(["lesson", str(tmp_path / "binary.toml")]) == 2
    assert "is not a text in UTF-8" in capsys.readouterr().err
    mine = tmp_path / "mine.toml"
    assert main(["lesson", "--write", str(mine)]) == 0
    assert read(mine.read_text("utf-8"), "mine") == read(built_in(), "built in")
    mine.write_text("my own work")
    assert main(["lesson", "--write", str(mine)]) == 2
    assert "is there already" in capsys.readouterr().err and mine.read_text() == "my own work"
    assert main(["lesson", "--write", str(tmp_path / "no" / "folder.toml")]) == 2
    assert "cannot be written" in capsys.readouterr().err


def test_the_keys_walk_the_steps_and_the_address_holds_them():
    bench = LessonBench(Host(), read(built_in(), ""))
    steps = bench.lesson.steps
    assert bench.host.said["step"]["number"] == 1 and bench.host.said["address"] == "step=1"
    bench.take({"do": "previous"})
    assert bench.host.said["step"]["number"] == 1
    for number in range(2, len(steps) + 1):
        bench.take({"do": "next"})
        step = steps[number - 1]
        assert bench.host.said["step"] == {"number": number, "count": len(steps), "caption": step.caption, "title": bench.lesson.title}
        assert bench.scene.name == step.scene and bench.running is not step.hold
        assert bool(bench.prediction.waiting) == bool(step.ask)
        for name, value in step.set.items():
            if step.ask in (False, True):
                assert bench.scene[name] == bench.scene.by_name[name].checked(value)
    bench.take({"do": "open", "address": "step=7"})
    assert bench.host.said["step"]["number"] == 7
    bench.take({"do": "set", "name": "current", "value": -3})
    bench.take({"do": "open", "address": "step=7", "run": bench.run_word})
    assert bench.scene["current"] == -3, "a page that comes back does not set the step up anew"


def test_nothing_a_page_is_told_holds_the_notes():
    bench = LessonBench(Host(), read(built_in(), ""))
    assert bench.lesson.steps[0].notes not in str(bench.host.said)
