"""Practice on the page: questions one after another, and every answer kept."""

from __future__ import annotations

import asyncio
import json
import random
import re
import signal
import subprocess
import sys
import time

import pytest
import tornado.websocket

from scenes import catalogue, files
from scenes.kept.lines import NotKept
from scenes.kept.writer import Writer
from scenes.practice.practice import AGAIN, SHOWN, TELLS_APART, Practice, waiting
from scenes.practice.practice_bench import PracticeBench
from scenes.practice.results import Results
from tests import programs
from tests.scenes.practice.answers import PATIENCE, ROOT, given, lines
from visual.host.server import Host


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
    """Answer, and the same again where a wrong answer may be tried once more."""
    choice = given(bench.prediction.posed, rightly)
    bench.receive({"do": "answer", "choice": choice})
    if bench.prediction.waiting:
        bench.receive({"do": "answer", "choice": choice})


def test_the_bench_asks_one_after_the_other_and_keeps_every_answer(bench, file, monkeypatch):
    monkeypatch.setattr(bench.practice, "kinds", lambda scene: ("compare",))
    bench.receive({"do": "ask"})
    asked = []
    for rightly in (False, True, True, True, True):
        asked.append((bench.scene.name, bench.prediction.kind, bench.prediction.seed))
        assert bench.host.published["question"]["text"] == bench.prediction.question.text and bench.prediction.waiting
        assert bool(bench.host.published["question"]["note"]) is (len(asked) == 5)
        answer(bench, rightly)
        if not rightly:
            assert "A question of this kind comes back after 3 others." in bench.host.published["question"]["note"]
        bench.receive({"do": "ask"})
    written(bench)
    assert asked[4][:2] == asked[0][:2] and len(set(asked)) == 5, "the kind comes back, never the same set-up"
    assert [(line["scene"], line["kind"], line["seed"]) for line in lines(file)] == asked
    assert [line["right"] for line in lines(file)] == [False, True, True, True, True]


def test_a_wrong_answer_is_named_and_tried_once_more_before_the_answer_is_shown(bench, file):
    bench.receive({"do": "scene", "name": "alternator"})
    bench.receive({"do": "ask", "seed": 5, "kind": "figure"})
    figure = bench.prediction.posed.figure
    bench.receive({"do": "answer", "choice": f"{2 * figure.size:.6g} Hz"})
    said = bench.host.published["question"]
    assert "takes poles for pole pairs" in said["note"] and said["note"].endswith("Try once more.")
    assert said["given"] is None and said["answer"] is None and said["tried"] and bench.prediction.waiting
    bench.receive({"do": "answer", "choice": f"{figure.size:.6g} Hz"})
    said = bench.host.published["question"]
    assert said["right"] is True and said["score"] == {"right": 0, "asked": 1}
    written(bench)
    (line,) = lines(file)
    assert (line["right"], line["kind"], line["mistake"]) == (False, "figure", "poles for pole pairs")


def test_the_same_mistake_twice_is_told_as_such(bench):
    bench.receive({"do": "scene", "name": "alternator"})
    for seed in (5, 7):
        bench.receive({"do": "ask", "seed": seed, "kind": "figure"})
        answer_with = f"{2 * bench.prediction.posed.figure.size:.6g} Hz"
        bench.receive({"do": "answer", "choice": answer_with})
    said = bench.host.published["question"]
    assert said["note"].startswith("Wrong: ") and "Hz. This answer takes poles for pole pairs" in said["note"]
    assert said["note"].count("poles for pole pairs") == 1 and said["note"].endswith("You made this mistake before. Try once more.")
    bench.receive({"do": "answer", "choice": bench.prediction.posed.answer})
    said = bench.host.published["question"]
    assert "poles for pole pairs" not in f"{said['note']} {said['reason']}", "it is not told again"


def test_a_wrong_answer_without_the_mistake_is_not_called_the_same_again(bench):
    bench.receive({"do": "scene", "name": "alternator"})
    for seed, times in ((5, 2), (7, 2), (9, 77.7)):
        bench.receive({"do": "ask", "seed": seed, "kind": "figure"})
        bench.receive({"do": "answer", "choice": f"{times * bench.prediction.posed.figure.size:.6g} Hz"})
    assert "mistake" not in bench.host.published["question"]["note"]


def test_the_sentence_on_a_steady_mistake_is_told_once_where_an_answer_ends_the_question(bench):
    """Both wires: with two choices there is no second try. Like poles repel, but like currents attract; the right answer in between is
    without the other hand."""
    bench.receive({"do": "scene", "name": "two-wires"})
    told = []
    for kind, seed, right in (("forward", 5, False), ("why", 3, True), ("forward", 8, False), ("current", 4, False)):
        bench.receive({"do": "ask", "seed": seed, "kind": kind})
        answer(bench, right)
        said = bench.host.published["question"]
        told.append(f"{said['note']} {said['reason']}")
    only = "Of these mistakes only one fits your earlier answers too: wires taken for poles."
    assert [only in each for each in told] == [False, False, True, False]
    assert "or wires taken for poles." in told[0] and "or wires taken for poles." in told[2], "as one of several"
    assert [each.count("takes the wires for poles") for each in told] == [0, 0, 0, 1]
    assert not any("made this mistake before" in each for each in told), "no earlier answer can come of it alone"
    bench.receive({"do": "ask", "seed": 6, "kind": "current"})
    answer(bench, False)
    said = bench.host.published["question"]
    told_now = f"{said['note']} {said['reason']}"
    assert told_now.count("takes the wires for poles") == told_now.count("You made this mistake before.") == 1 and only not in told_now


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
    longest, answers = 0.0, []
    with files.locked(file.with_name("practice.jsonl.lock")):
        for rightly in (True, False, True):
            answers.append((bench.scene.name, bench.prediction.seed, rightly))
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
    assert [(line["scene"], line["seed"], line["right"]) for line in lines(file)] == answers, "in order, and none is lost"


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
        await line.write_message(json.dumps({"do": "answer", "choice": question["choices"][0]["value"] if question["choices"] else "1 mN"}))
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


def test_a_mock_test_on_the_page_tells_nothing_before_its_end(bench, file):
    """Played as a student would; what was right is counted here."""
    bench.receive({"do": "mock", "questions": 4, "minutes": 10})
    asked, put = set(), []
    for place, rightly in enumerate((True, False, False, True), 1):
        told = bench.host.published
        assert (told["mock"]["place"], told["mock"]["count"], told["mock"]["over"]) == (place, 4, False)
        assert told["mock"]["right"] is None and told["question"]["given"] is None and told["question"]["note"] == ""
        asked.add((bench.scene.name, bench.prediction.posed.kind))
        for refused in ({"do": "reveal"}, {"do": "ask"}, {"do": "ask", "present": True}, {"do": "mock", "questions": 2, "minutes": 1}):
            before = told["question"]
            bench.receive(refused)
            assert bench.host.published["question"] == before and "mock test is going on" in bench.host.published["notice"]["text"]
        question = bench.prediction.posed
        put.append((question.text, rightly, question.words_of(question.answer)))
        bench.receive({"do": "answer", "choice": given(question, rightly)})
    told = bench.host.published
    assert told["question"] is None and told["mock"]["over"] and told["mock"]["right"] == 2
    assert [(each["question"], each["right"], each["answer"]) for each in told["mock"]["put"]] == put
    assert len(asked) == 4, "no kind is put twice"
    assert told["mock"]["result"] == "2 of 4 right" and all(each["reason"] and each["given"] for each in told["mock"]["put"])
    written(bench)
    assert [line["right"] for line in lines(file)] == [True, False, False, True]
    bench.receive({"do": "ask"})
    assert bench.host.published["mock"] is None and bench.host.published["question"]["score"] == {"right": 0, "asked": 0}


def test_a_mock_test_ends_when_its_time_is_over_or_it_is_handed_in(bench, monkeypatch):
    bench.receive({"do": "mock", "questions": 4, "minutes": 2})
    mock = bench.student.mock
    assert 0 < bench.host.published["mock"]["seconds"] <= 120
    monkeypatch.setattr(mock, "_clock", lambda: mock._ends - 10.5)
    bench.frame(0.02)
    assert bench.host.published["mock"]["seconds"] == 11 and not bench.host.published["mock"]["over"]
    waited = bench.prediction.posed
    monkeypatch.setattr(mock, "_clock", lambda: mock._ends + 0.01)
    bench.frame(0.02)
    told = bench.host.published["mock"]
    assert told["over"] and bench.host.published["question"] is None
    assert told["result"] == "The time is up: 0 of 4 right, 4 not answered"
    (put,) = told["put"]
    assert (put["question"], put["given"], put["right"]) == (waited.text, "", False)
    assert (put["answer"], put["reason"]) == (waited.words_of(waited.answer), waited.reason)
    bench.receive({"do": "mock", "questions": 4, "minutes": 2})
    bench.receive({"do": "enough"})
    told = bench.host.published["mock"]
    assert told["over"] and told["right"] == 0 and told["result"] == "0 of 4 right, 4 not answered" and len(told["put"]) == 1
    for questions, minutes in ((0, 2), (2.5, 2), (4, 0), (4, 601), (10**30, 2)):
        bench.receive({"do": "mock", "questions": questions, "minutes": minutes})
        assert bench.host.published["notice"]["text"].startswith("A mock test")


def test_a_question_is_not_put_in_the_words_of_the_last(tmp_path):
    practice = Practice(Results(tmp_path / "answers.jsonl"), ("turning-field", "alternator"), random.Random(4))
    bench, asked = PracticeBench(Host(), practice, Writer(practice.results)), []
    for _ in range(8):
        asked.append(bench.prediction.question.text)
        answer(bench, True)
        bench.receive({"do": "ask"})
    assert not any(text in asked[max(0, place - 1) : place] for place, text in enumerate(asked))


def test_an_answer_that_is_shown_counts_as_not_known_and_its_kind_comes_after_three_others(tmp_path):
    """Also where the question came back, or was put to tell two mistakes apart: only the first is answered, wrongly."""
    practice = Practice(Results(tmp_path / "answers.jsonl"), ("pushed-conductor",), random.Random(3))
    bench, asked, notes = PracticeBench(Host(), practice, Writer(practice.results)), [], []
    while practice.results.all[-1:] == [] or " or " not in practice.results.all[-1].mistake:
        posed = bench.prediction.posed
        wrong = next((value for value, names in posed.mistakes if len(names) > 1), posed.answer)
        for _ in range(2):
            if bench.prediction.waiting:
                bench.receive({"do": "answer", "choice": wrong})
        bench.receive({"do": "ask"})
    begun = len(practice.results.all)
    for _ in range(16):
        notes.append(bench.host.published["question"]["note"])
        asked.append(bench.prediction.kind)
        bench.receive({"do": "reveal"})
        assert bench.host.published["question"]["note"] == "A question of this kind comes back after 3 others."
        bench.receive({"do": "ask"})
    assert not any(kind in asked[max(0, place - 3) : place] for place, kind in enumerate(asked)), asked
    assert [(one.kind, one.given, one.right) for one in practice.results.all[begun:]] == [(kind, "", False) for kind in asked]
    assert TELLS_APART in notes and AGAIN in notes and SHOWN in notes
    written(bench)
    again = Results(tmp_path / "answers.jsonl")
    again.read()
    assert waiting(again.answers) == waiting(practice.results.all)


def test_a_wrong_answer_and_then_the_answer_shown_is_one_answer(bench):
    while len(bench.prediction.posed.choices) == 2:
        bench.receive({"do": "answer", "choice": bench.prediction.posed.answer})
        bench.receive({"do": "ask"})
    before = len(bench.practice.results.all)
    bench.receive({"do": "answer", "choice": given(bench.prediction.posed, False)})
    bench.receive({"do": "reveal"})
    said = bench.host.published["question"]
    assert len(bench.practice.results.all) == before + 1 and bench.practice.results.all[-1].given
    assert said["note"] == "A question of this kind comes back after 3 others." and said["right"] is None
