"""Practice: what is asked next, a round in the terminal, and the file of results that loses nothing."""

from __future__ import annotations

import asyncio
import csv
import io
import json
import os
import random
import re
import resource
import signal
import subprocess
import sys
import time
from collections import Counter
from pathlib import Path

import pytest
import tornado.websocket

from scenes import catalogue, files
from scenes.__main__ import main
from scenes.bench.bench import Bench
from scenes.bench.prediction import Prediction, choice_meant
from scenes.practice import results
from scenes.practice.practice import Practice, next_question, scenes_of, waiting
from scenes.practice.practice_bench import PracticeBench
from scenes.practice.results import Answer, NotKept, Results
from scenes.practice.results_writer import Writer
from scenes.scene.scene import Question
from tests import programs
from visual.host.server import Host

ROOT = Path(__file__).parents[3]
PATIENCE = 60  # s


def answered(scene: str, seed: int | None, right: bool) -> Answer:
    return Answer("2026-03-09T14:05:30Z", scene, seed, f"scene={scene}", "Which way?", "up" if right else "down", "up", right)


def keep(results: Results, answer: Answer) -> None:
    results.add(answer)
    results.keep()


def lines(file: Path) -> list[dict]:
    return [json.loads(line) for line in file.read_text("utf-8").splitlines()]


@pytest.fixture
def file(tmp_path):
    return tmp_path / "kept" / "practice.jsonl"


# what comes next


def test_a_wrong_answer_comes_back_after_3_then_8_then_20_others_and_is_let_go():
    """Played through as a student would, against the places counted by hand: 1, 5, 14, 35."""
    dice, given, asked_at = random.Random(5), [answered("pushed-conductor", 77, False)], [1]
    for place in range(2, 80):
        coming = next_question(given, catalogue.NAMES, dice)
        if coming.again:
            assert (coming.scene, coming.seed) == ("pushed-conductor", 77)
            asked_at.append(place)
        given.append(answered(coming.scene, coming.seed, True))
    assert asked_at == [1, 5, 14, 35]
    assert waiting(given) == {}


def test_wrong_again_begins_anew():
    given = [answered("a", 1, False)] + [answered("b", n, True) for n in range(3)] + [answered("a", 1, True)]
    assert waiting(given)["a", 1].due == 5 + 8
    given.append(answered("a", 1, False))
    assert waiting(given) == {("a", 1): waiting([answered("b", 0, True)] * 5 + [answered("a", 1, False)])["a", 1]}
    assert waiting(given)["a", 1].due == 6 + 3


def test_what_was_never_wrong_and_what_has_no_number_do_not_come_back():
    assert waiting([answered("a", 1, True), answered("a", None, False)]) == {}


def test_the_longest_due_comes_first_and_only_of_the_topic():
    given = [answered("a", 1, False), answered("b", 2, False)] + [answered("c", n, True) for n in range(9)]
    assert next_question(given, ("a", "b", "c"), random.Random(1)).seed == 1
    assert next_question(given, ("b", "c"), random.Random(1)).seed == 2
    assert not next_question(given, ("c",), random.Random(1)).again


def test_new_questions_are_drawn_more_where_more_went_wrong(monkeypatch):
    monkeypatch.setattr("scenes.practice.practice.NUMBERS", range(1, 20))  # which of a scene's questions it is, is not what is counted here
    given = [answered("good", n, True) for n in range(6)] + [answered("bad", n, False) for n in range(6)]
    given += [answered("bad", n, True) for n in range(6) for _ in range(3)]  # so that none of them comes back,
    given += [answered("bad", None, False)] * 6  # and six mistakes lately nevertheless
    drawn = Counter(next_question(given, ("good", "bad", "never"), random.Random(n)).scene for n in range(3000))
    # weights 1, 1 + 6 and 4 of 12; four standard deviations of a binomial count are below 110
    assert [drawn[name] for name in ("good", "bad", "never")] == pytest.approx([250, 1750, 1000], abs=110)


def test_a_new_question_is_one_not_asked_before():
    given = [answered("a", seed, True) for seed in range(1, 9999) if seed != 4711]
    assert next_question(given, ("a",), random.Random(3)).seed in (4711, 9999)


def test_topics():
    assert scenes_of(None) == catalogue.NAMES
    assert scenes_of("moved-conductor") == ("moved-conductor",)
    assert "pushed-conductor" in scenes_of("push") and "moved-conductor" not in scenes_of("push")
    assert "pushed-conductor" in scenes_of("left-hand")
    assert set(scenes_of("Conductor")) >= {"pushed-conductor", "moved-conductor"}
    for wrong, nearest in (("pushd", "pushed-conductor"), ("moved-conducter", "moved-conductor")):
        with pytest.raises(ValueError, match=f"no topic '{wrong}'; did you mean {nearest}"):
            scenes_of(wrong)
    for wrong in ("qqqq", "", "a", "-"):
        with pytest.raises(ValueError, match="there are field-round-a-wire"):
            scenes_of(wrong)


# saying which choice is meant

ASKED = Question(
    "Which way?",
    (("to the left", "to the left"), ("up", "up"), ("nowhere", "it is not pushed up or down")),
    "up",
    "So.",
)


@pytest.mark.parametrize(("text", "meant"), [
    ("up", "up"), (" UP ", "up"), ("left", "to the left"), ("to the  left", "to the left"), ("nowhere", "nowhere"),
    ("not pushed", "nowhere"),
])  # fmt: skip
def test_a_choice_is_meant_by_its_value_its_words_or_enough_of_them(text, meant):
    assert choice_meant(ASKED, text) == meant


@pytest.mark.parametrize("text", ["", "the up", "sideways", "1"])
def test_what_is_no_choice_is_answered_with_the_choices(text):
    with pytest.raises(ValueError, match=r"one of to the left \| up \| it is not pushed up or down, not"):
        choice_meant(ASKED, text)


@pytest.mark.parametrize("name", catalogue.NAMES)
def test_ask_tells_a_prediction_right_or_wrong(name, capsys):
    question = catalogue.scene_class(name)().question()
    for value, words in question.choices:
        for given in (value, words.upper()):
            assert main(["ask", name, "--predict", given, "--json"]) == 0
            said = json.loads(capsys.readouterr().out)
            assert said["predicted"] == value and said["right"] is (value == said["answer"]), given
        main(["ask", name, "--predict", value])
        said = capsys.readouterr().out
        assert f"{'Right' if value == question.answer else 'Wrong'}: {words}.\n" in said and question.reason in said
    assert main(["ask", name, "--predict", "sideways and back"]) == 2
    assert "The answer is one of" in capsys.readouterr().err


def test_a_prediction_about_the_present_set_up_leaves_it_as_it_is():
    for name in catalogue.NAMES:
        scene, prediction = catalogue.scene_class(name)(), Prediction()
        for _ in range(5):
            scene.step(0.03)
        before = dict(scene.settings)
        prediction.ask_present(scene)
        assert scene.settings == before and prediction.waiting and prediction.seed is None
        assert prediction.question == scene.question()


def test_the_bench_asks_of_what_is_there():
    bench = Bench(Host(), "pushed-conductor")
    for message in ({"do": "set", "name": "current", "value": -5}, {"do": "ask", "present": True}):
        bench.receive(message)
    said = bench.host.published["question"]
    # current away from the viewer, field up: I x B = (0, 0, -1) x (0, 1, 0) = (1, 0, 0)
    assert said["seed"] is None and "away from you" in said["text"]
    assert bench.host.published["bench"]["held"] and bench.host.published["settings"]["current"] == -5
    bench.receive({"do": "answer", "choice": "to the right"})
    assert bench.host.published["question"]["right"] is True


# the file


def test_answers_come_back_from_the_file_with_every_field(file):
    kept = Results(file)
    kept.open()
    for answer in (answered("a", 3, True), answered("b", None, False)):
        keep(kept, answer)
    again = Results(file)
    again.read()
    assert again.answers == kept.answers == [answered("a", 3, True), answered("b", None, False)] and again.told == []
    assert lines(file)[0] == {
        "version": 1, "when": "2026-03-09T14:05:30Z", "scene": "a", "seed": 3, "address": "scene=a",
        "question": "Which way?", "given": "up", "answer": "up", "right": True,
    }  # fmt: skip


def test_fields_and_lines_of_a_later_version_are_kept_as_they_are(file):
    file.parent.mkdir()
    richer = json.loads(answered("a", 3, False).line) | {"version": 2, "seconds": 4.5, "né": "ß"}
    other = {"version": 3, "kind": "pause"}
    plain = json.loads(answered("b", 4, True).line) | {"hint": [1]}
    before = "".join(json.dumps(one, ensure_ascii=False) + "\n" for one in (richer, other, plain))
    file.write_text(before, "utf-8")
    kept = Results(file)
    kept.open()
    keep(kept, answered("c", 5, True))
    assert file.read_text("utf-8") == before + answered("c", 5, True).line + "\n"
    assert [answer.scene for answer in kept.answers] == ["a", "b", "c"] and kept.told == []


GOOD = answered("a", 3, True).line.encode()
DAMAGED = {
    "half a line": (GOOD + b"\n" + GOOD[:50], 1),
    "not text": (b"\xff\xfe\x00\x01", 0),
    "no object": (b"[1, 2]\n" + GOOD + b"\n" + GOOD + b"\n", 2),
    "no version": (b"{}\n", 0),
    "version of nonsense": (GOOD.replace(b'"version": 1', b'"version": true'), 0),
    "a field is gone": (GOOD.replace(b'"given"', b'"gone"'), 0),
    "a field is of the wrong kind": (GOOD.replace(b"true", b'"yes"'), 0),
    "no moment": (GOOD.replace(b"2026-03-09T", b"yesterday "), 0),
    "nested without end": (b"[" * 100_000, 0),
}


@pytest.mark.parametrize(("raw", "sound"), DAMAGED.values(), ids=list(DAMAGED))
def test_a_damaged_file_is_set_aside_and_what_can_be_read_goes_on(file, raw, sound):
    file.parent.mkdir()
    for number in (1, 2):
        file.write_bytes(raw)
        kept = Results(file)
        kept.open()
        keep(kept, answered("new", 9, True))
        aside = file.with_name(f"practice.damaged-{number}.jsonl")
        assert aside.read_bytes() == raw
        assert [answer.scene for answer in kept.answers] == ["a"] * sound + ["new"]
        assert len(lines(file)) == sound + 1
        (told,) = kept.told
        assert aside.name in told and told.endswith(".") and "\n" not in told


def test_what_a_hand_or_another_system_writes_is_not_damage(file):
    file.parent.mkdir()
    file.write_bytes(b"\xef\xbb\xbf" + GOOD + b"\r\n\r\n" + GOOD)
    kept = Results(file)
    kept.open()
    keep(kept, answered("b", 1, True))
    assert len(lines(file)) == 3 and kept.told == []


def test_reading_makes_no_file(file):
    Results(file).read()
    assert not file.parent.exists()


def test_an_answer_that_could_not_be_written_is_written_with_the_next(file):
    kept = Results(file)
    kept.open()
    file.unlink()
    file.mkdir()  # what was a file is a folder: nothing can be written
    with pytest.raises(NotKept, match="is a directory"):
        keep(kept, answered("a", 1, True))
    assert [answer.scene for answer in kept.all] == ["a"]
    file.rmdir()
    keep(kept, answered("b", 2, True))
    assert [line["scene"] for line in lines(file)] == ["a", "b"]


def test_a_write_that_breaks_off_leaves_the_file_as_it_was(file, monkeypatch):
    kept = Results(file)
    kept.open()
    keep(kept, answered("a", 1, True))
    before = file.read_bytes()

    def full(*_):
        raise OSError(28, "No space left on device")

    def breaks_off():
        with pytest.raises(NotKept, match=r"practice\.jsonl: (no space left on device|file too large)\.$"):
            keep(kept, answered("b", 2, True))
        assert file.read_bytes() == before
        assert sorted(each.name for each in file.parent.iterdir()) == ["practice.jsonl", "practice.jsonl.lock"]

    with monkeypatch.context() as patch:
        patch.setattr(files.os, "fsync", full)
        breaks_off()
    signal.signal(signal.SIGXFSZ, signal.SIG_IGN)
    soft, hard = resource.getrlimit(resource.RLIMIT_FSIZE)
    resource.setrlimit(resource.RLIMIT_FSIZE, (len(before) + 20, hard))  # half a line fits
    try:
        breaks_off()
    finally:
        resource.setrlimit(resource.RLIMIT_FSIZE, (soft, hard))
    kept.keep()
    assert [line["scene"] for line in lines(file)] == ["a", "b", "b"], "nothing is lost"


def test_an_answer_is_added_and_the_rest_of_the_file_neither_read_nor_written(file, monkeypatch):
    file.parent.mkdir()
    before = (answered("a", 3, True).line + "\n") * 5000
    file.write_text(before, "utf-8")
    kept, other = Results(file), Results(file)
    kept.open()
    other.open()
    inode = file.stat().st_ino
    monkeypatch.setattr(results, "_lines", None)
    for number in range(3):
        keep(other, answered("theirs", number, True))
        keep(kept, answered("ours", number, True))
    assert file.stat().st_ino == inode and file.read_text("utf-8").startswith(before)
    expected = [(name, number) for number in range(3) for name in ("theirs", "ours")]
    assert [(line["scene"], line["seed"]) for line in lines(file)[5000:]] == expected
    assert [(answer.scene, answer.seed) for answer in kept.all[5000:]] == expected, "the other program's are ours as well"


@pytest.mark.parametrize("raw", [b"nonsense\n", b"\xff\n", b"[" * 40, GOOD[:40]])
def test_what_is_damaged_while_the_program_runs_is_set_aside_with_the_next_answer(file, raw):
    kept = Results(file)
    kept.open()
    keep(kept, answered("a", 1, True))
    with open(file, "ab") as other:
        other.write(raw)
    damaged = file.read_bytes()
    keep(kept, answered("b", 2, True))
    keep(kept, answered("c", 3, True))
    assert [line["scene"] for line in lines(file)] == ["a", "b", "c"] == [answer.scene for answer in kept.all]
    assert file.with_name("practice.damaged-1.jsonl").read_bytes() == damaged and len(kept.told) == 1


def test_a_file_that_was_put_in_its_stead_or_cut_short_is_read_again(file):
    kept = Results(file)
    kept.open()
    keep(kept, answered("a", 1, True))
    beside = file.with_name("other")
    beside.write_text(answered("x", 1, True).line + "\n" + answered("y", 2, True).line + "\n")
    beside.replace(file)
    keep(kept, answered("b", 2, True))
    assert [answer.scene for answer in kept.all] == ["x", "y", "b"] == [line["scene"] for line in lines(file)]
    file.write_text("")
    keep(kept, answered("c", 3, True))
    assert [answer.scene for answer in kept.all] == ["c"] == [line["scene"] for line in lines(file)]


def test_a_lock_that_is_never_let_go_is_told(file, monkeypatch):
    monkeypatch.setattr(files, "PATIENCE", 0.1)
    kept = Results(file)
    kept.open()
    with files.locked(file.with_name("practice.jsonl.lock")), pytest.raises(NotKept, match="another program"):
        keep(kept, answered("a", 1, True))
    kept.keep()
    assert len(lines(file)) == 1


WRITER = """
import sys
from pathlib import Path
from scenes.practice.results import Answer, Results
kept = Results(Path(sys.argv[1]))
kept.open()
for seed in range(40):
    kept.add(Answer("2026-03-09T14:05:30Z", sys.argv[2], seed, "", "Which way?", "up", "up", True))
    kept.keep()
"""


def test_programs_that_write_at_once_lose_nothing(file):
    writers = [
        programs.start([sys.executable, "-c", WRITER, str(file), name], cwd=ROOT, stderr=subprocess.PIPE)
        for name in ("first", "second", "third")
    ]
    for writer in writers:
        assert writer.communicate(timeout=PATIENCE)[1] == b""
    found = Counter(line["scene"] for line in lines(file))
    assert found == {"first": 40, "second": 40, "third": 40}
    for name in found:
        assert [line["seed"] for line in lines(file) if line["scene"] == name] == list(range(40))


def test_the_usual_place_by_platform(monkeypatch, tmp_path):
    home = tmp_path / "home"
    monkeypatch.setattr(results.Path, "home", lambda: home)
    for name in ("XDG_DATA_HOME", "LOCALAPPDATA"):
        monkeypatch.delenv(name, raising=False)
    monkeypatch.setattr(results.sys, "platform", "linux")
    # XDG Base Directory Specification: the default, and that relative paths are to be ignored
    assert results.usual_place() == home / ".local/share/thumbwise/practice.jsonl"
    monkeypatch.setenv("XDG_DATA_HOME", "here")
    assert results.usual_place() == home / ".local/share/thumbwise/practice.jsonl"
    monkeypatch.setenv("XDG_DATA_HOME", str(tmp_path))
    assert results.usual_place() == tmp_path / "thumbwise/practice.jsonl"
    monkeypatch.setattr(results.sys, "platform", "darwin")
    assert results.usual_place() == home / "Library/Application Support/Thumbwise/practice.jsonl"
    monkeypatch.setattr(results.sys, "platform", "win32")
    assert results.usual_place() == home / "AppData/Local/Thumbwise/practice.jsonl"


# a round in the terminal


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
        [sys.executable, "-m", "scenes", "practice", "pushed-conductor", "--text", "--questions", "2"], cwd=ROOT, input="1\n1\n",
        capture_output=True, text=True, encoding="utf-8", timeout=PATIENCE,
        env=os.environ | {"PYTHONIOENCODING": "utf-8", "XDG_DATA_HOME": str(file.parent)},
    )  # fmt: skip
    assert (ran.returncode, ran.stderr) == (0, "")
    assert str(file.parent / "thumbwise" / "practice.jsonl") in ran.stdout
    assert len(lines(file.parent / "thumbwise" / "practice.jsonl")) == 2


def right_answer(scene_name: str, seed: int) -> str:
    prediction = Prediction()
    prediction.ask(catalogue.scene_class(scene_name)(), seed)
    return prediction.question.answer


def play(practised: Practice, rightly: list[bool]) -> list[str]:
    """What to write in a round so that the answers are right and wrong as told, foreseen without the program."""
    words, given = [], list(practised.results.all)
    for right in rightly:
        coming = next_question(given, practised.scenes, practised._dice)
        prediction = Prediction()
        prediction.ask(catalogue.scene_class(coming.scene)(), coming.seed)
        values = [value for value, _ in prediction.question.choices]
        wrong = next(value for value in values if value != prediction.question.answer)
        words.append(prediction.question.answer if right else str(values.index(wrong) + 1))
        given.append(answered(coming.scene, coming.seed, right))
    return words


def test_a_round_with_wrong_and_right_answers(file, practice):
    rightly = [False, True, True, False, True, True]
    foreseen = Practice(Results(file), catalogue.NAMES, random.Random(11))
    words = play(foreseen, rightly)
    status, out, err = practice("--text", "--questions", "6", "--seed", "11", "--results", str(file), said="\n".join(["sideways", *words]))
    assert (status, err) == (0, "")
    kept = lines(file)
    assert [line["right"] for line in kept] == rightly
    for line in kept:
        assert line["answer"] == right_answer(line["scene"], line["seed"])
        assert line["question"] in out and (line["given"] == line["answer"]) is line["right"]
    # the first went wrong, so it comes back as the fifth, and is right then
    assert (kept[4]["scene"], kept[4]["seed"]) == (kept[0]["scene"], kept[0]["seed"])
    assert "5. " in out and out.count("you got this wrong earlier") == 1
    assert "4 of 6 right. 2 questions come back in the next rounds." in out
    assert "Answer with one of" in out and str(file) in out

    exported = file.with_name("results.csv")
    assert practice("--results", str(file), "--export", str(exported)) == (0, f"6 answers written to {exported}.\n", "")
    with open(exported, encoding="utf-8", newline="") as opened:
        rows = list(csv.DictReader(opened))
    assert list(rows[0]) == ["when", "scene", "seed", "question", "given", "answer", "right"]
    for row, line in zip(rows, kept, strict=True):
        assert row == {name: str(line[name]) for name in row} | {"right": "yes" if line["right"] else "no"}


def test_leaving_early_keeps_what_was_answered(file, practice):
    for leave in ("q\n", ""):
        status, out, err = practice("pushed-conductor", "--text", "--results", str(file), said=f"1\n{leave}")
        assert (status, err) == (0, "") and " of 1 right." in out
    assert len(lines(file)) == 2


def test_a_topic_asks_of_its_scenes_alone(file, practice):
    status, _, _ = practice("left-hand", "--text", "--questions", "8", "--results", str(file), said="1\n" * 8)
    assert status == 0
    assert {line["scene"] for line in lines(file)} <= set(scenes_of("left-hand"))


def test_without_the_usual_place_practice_goes_on_and_says_so(practice, monkeypatch):
    monkeypatch.setenv("XDG_DATA_HOME", "/dev/null")
    status, out, err = practice("pushed-conductor", "--text", "--questions", "2", said="1\n1\n")
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
    status, out, err = practice("pushed-conductor", "--text", "--questions", "2", said="1\n1\n")
    assert status == 0 and " of 2 right." in out
    assert err == (
        "thumbwise: Results cannot be kept: this user has no home folder; give a file with --results."
        " Practice goes on without keeping them.\n"
    )
    status, out, err = practice("pushed-conductor", "--text", "--questions", "1", "--results", str(file), said="1\n")
    assert (status, err) == (0, "") and len(lines(file)) == 1, "a file that is named needs no home"
    status, out, err = practice("--export", str(tmp_path / "out.csv"))
    assert (status, out) == (2, "") and err.startswith("thumbwise: Results cannot be kept") and err.count("\n") == 1
    with pytest.raises(SystemExit) as helped:
        practice("--help")
    assert helped.value.code == 0


def test_a_damaged_file_is_told_once(file, practice):
    file.parent.mkdir()
    file.write_text("nonsense\n")
    status, _, err = practice("pushed-conductor", "--text", "--questions", "1", "--results", str(file), said="1\n")
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


# on the bench


@pytest.fixture
def bench(file):
    kept = Results(file)
    kept.open()
    return PracticeBench(Host(), Practice(kept, catalogue.NAMES[:3], random.Random(4)), Writer(kept))


def written(bench: PracticeBench) -> None:
    """Wait until the answers so far are written, or could not be."""
    bench.writer.write()
    bench.writer._next.result(PATIENCE)


def answer(bench: PracticeBench, rightly: bool) -> None:
    question = bench.prediction.question
    bench.receive({"do": "answer", "choice": next(v for v, _ in question.choices if (v == question.answer) is rightly)})


def test_the_bench_asks_one_after_the_other_and_keeps_every_answer(bench, file):
    asked = []
    for rightly in (False, True, True, True, True):
        asked.append((bench.scene.name, bench.prediction.seed))
        assert bench.host.published["question"]["text"] == bench.prediction.question.text and bench.prediction.waiting
        assert bool(bench.host.published["question"]["note"]) is (len(asked) == 5)
        answer(bench, rightly)
        if not rightly:
            assert bench.host.published["question"]["note"] == "This question comes back after 3 others."
        bench.receive({"do": "ask"})
    written(bench)
    assert asked[4] == asked[0] and len(set(asked)) == 4
    assert [(line["scene"], line["seed"]) for line in lines(file)] == asked
    assert [line["right"] for line in lines(file)] == [False, True, True, True, True]


def test_a_set_up_of_ones_own_is_kept_without_a_number(bench, file):
    bench.receive({"do": "scene", "name": "pushed-conductor"})
    bench.receive({"do": "set", "name": "current", "value": 3})
    bench.receive({"do": "ask", "present": True})
    answer(bench, True)
    written(bench)
    (line,) = lines(file)
    assert line["seed"] is None and "current=3" in line["address"] and line["right"] is True


def test_the_page_is_told_when_an_answer_cannot_be_kept(bench, file):
    file.unlink()
    file.mkdir()
    answer(bench, True)
    written(bench)
    bench.frame(0.02)
    assert "is a directory" in bench.host.published["notice"]["text"]
    assert bench.host.published["question"]["right"] is True
    file.rmdir()
    bench.receive({"do": "ask"})
    answer(bench, True)
    written(bench)
    bench.frame(0.02)
    assert bench.host.published["notice"]["text"] == "" and len(lines(file)) == 2


def test_the_page_never_stands_still_while_another_program_holds_the_lock(bench, file):
    longest, given = 0.0, []
    with files.locked(file.with_name("practice.jsonl.lock")):
        for rightly in (True, False, True):
            given.append((bench.scene.name, bench.prediction.seed, rightly))
            answer(bench, rightly)
            for _ in range(10):
                begun = time.perf_counter()
                bench.frame(0.02)
                longest = max(longest, time.perf_counter() - begun)
            begun = time.perf_counter()
            bench.receive({"do": "answer", "choice": "once more"})
            longest = max(longest, time.perf_counter() - begun)
            bench.receive({"do": "ask"})
        assert lines(file) == [] and longest < 1.0
    with bench.writer:
        pass
    assert [(line["scene"], line["seed"], line["right"]) for line in lines(file)] == given, "in order, and none is lost"


def test_a_lock_that_is_never_let_go_is_told_on_the_page_and_at_the_end(bench, file, monkeypatch):
    monkeypatch.setattr(files, "PATIENCE", 0.1)
    with files.locked(file.with_name("practice.jsonl.lock")):
        answer(bench, True)
        written(bench)
        bench.frame(0.02)
        assert "another program" in bench.host.published["notice"]["text"]
        with pytest.raises(NotKept, match="another program"), bench.writer:
            pass
    assert lines(file) == []


@pytest.mark.parametrize("by", [signal.SIGINT, signal.SIGTERM])
def test_a_practice_that_is_ended_has_written_the_last_answer(file, by):
    """On the wire, with the lock held by this program while the answer is given and the end comes."""
    program = programs.start(
        [sys.executable, "-u", "-m", "scenes", "practice", "pushed-conductor", "--results", str(file), "--no-browser", "--port", "0"],
        cwd=ROOT, stdout=subprocess.PIPE, stderr=subprocess.PIPE, text=True,
    )  # fmt: skip
    said = program.stdout.readline() + program.stdout.readline()
    address = re.search(r"localhost:\d+", said)[0]

    async def conversation():
        line = await tornado.websocket.websocket_connect(f"ws://{address}/socket")
        question = json.loads(await line.read_message())["question"]
        await line.write_message(json.dumps({"do": "answer", "choice": question["choices"][0]["value"]}))
        await line.write_message('{"do": "alive"}')
        while "alive" not in json.loads(await line.read_message()):
            await line.write_message('{"do": "ready"}')

    with files.locked(file.with_name(f"{file.name}.lock")):
        asyncio.run(asyncio.wait_for(conversation(), PATIENCE))
        program.send_signal(by)
        time.sleep(0.5)
        assert program.poll() is None and lines(file) == []
    assert program.communicate(timeout=PATIENCE)[1] == ""
    assert len(lines(file)) == 1


def test_a_pipe_or_a_device_is_neither_read_without_end_nor_replaced(tmp_path, capsys):
    pipe = tmp_path / "pipe"
    os.mkfifo(pipe)
    assert main(["worksheet", "--out", str(pipe)]) == 2
    assert main(["practice", "--text", "--results", str(pipe)]) in (0, 2)
    assert "it is not a regular file" in capsys.readouterr().err and pipe.is_fifo()


def test_a_question_is_not_put_in_the_words_of_the_last(tmp_path):
    practice = Practice(Results(tmp_path / "answers.jsonl"), ("turning-field", "coils-and-commutator"), random.Random(4))
    bench, asked = PracticeBench(Host(), practice, Writer(practice.results)), []
    for _ in range(12):
        asked.append(bench.prediction.question.text)
        answer(bench, True)
        bench.receive({"do": "ask"})
    assert not any(text in asked[max(0, place - 1) : place] for place, text in enumerate(asked))
