"""A round of practice in the terminal, and what the command says."""

from __future__ import annotations

import csv
import io
import os
import random
import sys

import pytest

from scenes import catalogue
from scenes.__main__ import main
from scenes.bench.prediction import Prediction
from scenes.practice.practice import AGAIN, TELLS_APART, Practice, waiting
from scenes.practice.practice_text import hold
from scenes.practice.results import Results
from scenes.practice.topics import scenes_of
from scenes.questions.kinds import kind_of
from scenes.questions.mistakes import told
from scenes.scene.question import Question
from tests import programs
from tests.scenes.practice.answers import PATIENCE, ROOT, answered, given, keep, lines

FEW = scenes_of("conductor")
EITHER = "a\n5 mN\n"  # one of a question's choices, or a figure


@pytest.fixture
def practice(monkeypatch, capsys):
    """`practice(*arguments, said=...)`: the command, and what it is told; its status, output and complaints."""

    def run(*arguments: str, said: str = "") -> tuple[int, str, str]:
        monkeypatch.setattr("sys.stdin", io.StringIO(said))
        status = main(["practice", *arguments])
        return status, *capsys.readouterr()

    return run


def test_a_round_as_a_program(file):
    ran = programs.run(
        [sys.executable, "-m", "scenes", "practice", "pushed-conductor", "--text", "--questions", "2"], cwd=ROOT, input=EITHER * 6,
        capture_output=True, text=True, encoding="utf-8", timeout=PATIENCE,
        env=os.environ | {"PYTHONIOENCODING": "utf-8", "XDG_DATA_HOME": str(file.parent)},
    )  # fmt: skip
    assert (ran.returncode, ran.stderr) == (0, "")
    assert str(file.parent / "thumbwise" / "practice.jsonl") in ran.stdout
    assert len(lines(file.parent / "thumbwise" / "practice.jsonl")) == 2


def asked(scene_name: str, kind: str, seed: int) -> Question:
    prediction = Prediction()
    prediction.ask(catalogue.scene_class(scene_name)(), seed, kind)
    return prediction.posed


def play(practised: Practice, rightly: list[bool]) -> tuple[list[str], int]:
    """What to write in a round so that the answers are right and wrong as told, a wrong one twice where it may be tried once more; and how
    many questions come back. Foreseen with the same dice."""
    words, back = [], 0
    for right in rightly:
        coming, prediction = practised.next(), Prediction()
        scene = catalogue.scene_class(coming.scene)()
        prediction.ask(scene, coming.seed, coming.kind)
        choice = given(prediction.posed, right)
        prediction.answer(choice, tries=2)
        words += [prediction.posed.words_of(choice)] * (2 if prediction.waiting else 1)
        practised.take(scene, prediction)
        back += coming.again
    return words, back


def test_a_round_with_wrong_and_right_answers(file, practice):
    rightly = [False, True, True, False, True, True]
    foreseen = Practice(Results(file), FEW, random.Random(11), in_text=True)
    words, back = play(foreseen, rightly)
    said = "\n".join(["sideways", *words])
    status, out, err = practice("conductor", "--text", "--questions", "6", "--seed", "11", "--results", str(file), said=said)
    assert (status, err) == (0, "")
    kept = lines(file)
    assert [line["right"] for line in kept] == rightly
    for line in kept:
        question = asked(line["scene"], line["kind"], line["seed"])
        assert line["answer"] == question.words_of(question.answer)
        assert line["question"] in out
    assert out.count(AGAIN) + out.count(TELLS_APART) == back >= 1
    waits = len(waiting(foreseen.results.all))
    assert f"4 of 6 right. {waits} kinds of question come back in the next rounds." in out
    assert ("Answer with one of" in out or "is not a figure" in out) and str(file) in out

    exported = file.with_name("results.csv")
    assert practice("--results", str(file), "--export", str(exported)) == (0, f"6 answers written to {exported}.\n", "")
    with open(exported, encoding="utf-8", newline="") as opened:
        rows = list(csv.DictReader(opened))
    assert list(rows[0]) == ["when", "scene", "kind", "seed", "question", "given", "answer", "right", "mistake"]
    for row, line in zip(rows, kept, strict=True):
        scene = catalogue.scene_class(line["scene"])
        words_of_it = {"scene": scene.title, "kind": kind_of(scene, line["kind"]).words, "right": "yes" if line["right"] else "no"}
        assert row == {name: str(line[name]) for name in row} | words_of_it


def test_a_mock_test_tells_what_was_right_only_at_its_end(file, practice):
    foreseen = Practice(Results(file), ("alternator",), random.Random(2), in_text=True)
    words, _ = play(foreseen, [True])
    status, out, err = practice(
        "alternator", "--text", "--mock", "10", "--questions", "1", "--seed", "2", "--results", str(file), said=words[0]
    )
    assert (status, err) == (0, "") and "A mock test of 10 minutes" in out and "1 of 1 right." in out
    assert out.index("Right:") > out.rindex("> "), "at its end"
    file.unlink()
    foreseen = Practice(Results(file), ("alternator",), random.Random(2), in_text=True)
    (wrong, *_), _ = play(foreseen, [False])
    line = foreseen.results.all[-1]
    question = asked(line.scene, line.kind, line.seed)
    _, out, _ = practice(
        "alternator", "--text", "--mock", "10", "--questions", "3", "--seed", "2", "--results", str(file), said=f"{wrong}\nq"
    )
    assert (
        out.index("0 of 3 right, 2 not answered.") > out.index(question.reason) > out.index(f"Wrong: {wrong}. Answer: ") > out.rindex("> ")
    )


def test_a_mock_test_ends_when_its_time_is_over(file, practice, monkeypatch):
    clock = iter(range(0, 100_000, 400))
    monkeypatch.setattr("scenes.practice.mock.time.monotonic", lambda: float(next(clock)))
    words, _ = play(Practice(Results(file), ("alternator",), random.Random(2), in_text=True), [True])
    words += ["a", "1 Hz", "1 V", "1 r/min"]  # whatever is asked then takes one of these
    out = practice(
        "alternator", "--text", "--mock", "10", "--questions", "3", "--seed", "2", "--results", str(file), said="\n".join(words)
    )[1]
    # 600 s: the first answer comes after 400 s, the second after 800 s
    assert "The time is over: this answer does not count." in out and "The time is up: 1 of 3 right, 2 not answered." in out
    assert out.count("  Right: ") == out.count("  Not answered. Answer: ") == len(lines(file)) == 1


def test_leaving_early_keeps_what_was_answered(file, practice):
    for leave in ("q\n", ""):
        status, out, err = practice("pushed-conductor", "--text", "--seed", "2", "--results", str(file), said=f"{EITHER}{leave}")
        assert (status, err) == (0, "") and " of 1 right." in out
    assert len(lines(file)) == 2


def test_a_topic_asks_of_its_scenes_alone(file, practice):
    status, _, _ = practice("left-hand", "--text", "--questions", "8", "--results", str(file), said=EITHER * 40)
    assert status == 0
    assert {line["scene"] for line in lines(file)} <= set(scenes_of("left-hand"))


def test_without_the_usual_place_practice_goes_on_and_says_so(practice, monkeypatch):
    monkeypatch.setenv("XDG_DATA_HOME", "/dev/null")
    status, out, err = practice("pushed-conductor", "--text", "--questions", "2", said=EITHER * 6)
    assert status == 0 and " of 2 right." in out
    assert err.count("\n") == 1 and "Practice goes on without keeping them." in err


@pytest.fixture
def homeless(monkeypatch):
    """A user of whom neither the environment nor the system's list of users names a home folder."""

    def nobody(_):
        raise KeyError

    for name in ("HOME", "XDG_DATA_HOME", "USERPROFILE", "LOCALAPPDATA"):
        monkeypatch.delenv(name, raising=False)
    monkeypatch.setattr("pwd.getpwuid", nobody)


def test_without_a_home_folder_practice_goes_on_and_says_so(practice, homeless, file, tmp_path):
    status, out, err = practice("pushed-conductor", "--text", "--questions", "2", said=EITHER * 6)
    assert status == 0 and " of 2 right." in out
    assert err == (
        "thumbwise: Results cannot be kept: this user has no home folder; give a file with --results."
        " Practice goes on without keeping them.\n"
    )
    status, out, err = practice("pushed-conductor", "--text", "--questions", "1", "--results", str(file), said=EITHER * 3)
    assert (status, err) == (0, "") and len(lines(file)) == 1, "a file that is named needs no home"
    status, out, err = practice("--export", str(tmp_path / "out.csv"))
    assert (status, out) == (2, "") and err.startswith("thumbwise: Results cannot be kept") and err.count("\n") == 1
    with pytest.raises(SystemExit) as helped:
        practice("--help")
    assert helped.value.code == 0


def test_a_damaged_file_is_told_once(file, practice):
    file.parent.mkdir()
    file.write_text("nonsense\n")
    status, _, err = practice("pushed-conductor", "--text", "--questions", "1", "--results", str(file), said=EITHER * 3)
    assert status == 0 and err.count("\n") == 1 and "set aside as practice.damaged-1.jsonl" in err
    assert file.with_name("practice.damaged-1.jsonl").read_text() == "nonsense\n" and len(lines(file)) == 1


@pytest.mark.parametrize(("arguments", "said"), [
    (("--results", "/dev/null/there"), "Results cannot be kept in /dev/null/there: a file has the same name as its folder."),
    (("--results", str(ROOT)), f"Results cannot be kept in {ROOT}: is a directory."),
    (("pushd-conductor",), "There is no topic 'pushd-conductor'; did you mean pushed-conductor?"),
    (("--questions", "0"), "Argument --questions: must be a whole number from 1 to 1000, not '0'; see thumbwise practice --help."),
    (("--export", "/dev/null/there"), "/dev/null/there cannot be written: not a directory."),
])  # fmt: skip
def test_what_cannot_be_is_told_in_a_sentence(arguments, said, file, capsys):
    more = ["--results", str(file)] if "--results" not in arguments else []
    assert main(["practice", "--text", *more, *arguments]) == 2
    err = capsys.readouterr().err
    assert err == f"thumbwise: {said}\n"


def test_the_results_are_not_overwritten_by_their_own_export(file, capsys):
    kept = Results(file)
    kept.open()
    keep(kept, answered("a", 1, True))
    before = file.read_bytes()
    assert main(["practice", "--results", str(file), "--export", str(file)]) == 2
    assert "give --export another file" in capsys.readouterr().err and file.read_bytes() == before


def test_in_a_mock_test_no_kind_comes_twice_while_there_are_others(file, practice):
    """What was wrong and comes back would tell that it was wrong."""
    taken_by_some_kind = "\n".join(["d", "1 Hz", "1 V", "1 A", "1 r/min", "b"] * 40)
    practice("alternator", "--text", "--mock", "10", "--questions", "4", "--seed", "3", "--results", str(file), said=taken_by_some_kind)
    asked = [line["kind"] for line in lines(file)]
    assert len(asked) == len(set(asked)) == 4


def test_who_quits_at_the_second_try_quits(file, monkeypatch, capsys):
    """And is shown the answer, but not told of a mistake that was not made again."""
    practised = Practice(Results(file), ("pushed-conductor",), random.Random(2))
    practised.kinds = lambda scene: ("why",)
    scene, prediction = catalogue.scene_class("pushed-conductor")(), Prediction()
    prediction.ask(scene, practised.next().seed, "why")
    wrong = next(value for value, names in prediction.posed.mistakes if len(names) == 1)
    (name,) = prediction.posed.may_be(wrong)
    practised = Practice(Results(file), ("pushed-conductor",), random.Random(2))
    practised.kinds = lambda scene: ("why",)
    monkeypatch.setattr("sys.stdin", io.StringIO(f"{wrong}\nq\n"))
    hold(practised, 3)
    out = capsys.readouterr().out
    assert "Try once more." in out and "\n2. " not in out and out.count(told(name)) == 1 and out.count("Wrong:") == 1
    assert f"Answer: {prediction.posed.words_of(prediction.posed.answer)}." in out and out.index("Answer: ") > out.index(told(name))
