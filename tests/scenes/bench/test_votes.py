"""A class votes, talks, and votes again: what is shown when, what is kept, and that it names nobody."""

from __future__ import annotations

import csv
import io
import json
import random

import pytest

from scenes import catalogue
from scenes.__main__ import main
from scenes.bench.bench import Bench
from scenes.bench.votes import Vote, Votes, kept_in
from scenes.lesson.lesson import Lesson, Step
from scenes.lesson.lesson_bench import SPEAKER, LessonBench
from tests import hostile
from visual.host.server import Host
from visual.host.viewers import Viewer


def asked(bench: Bench) -> list[str]:
    bench.receive({"do": "ask", "seed": 7})
    return [value for value, _ in bench.prediction.question.choices]


def vote(bench: Bench, *choices: str) -> dict:
    """A class of so many votes, each from a page of its own; the tally after it."""
    for number, choice in enumerate(choices):
        page = Viewer(lambda text: None, (), "class", lambda: None, None, f"visitor {number}", "192.0.2.7")
        bench.receive({"do": "answer", "choice": choice}, page)
    return tally(bench)


def tally(bench: Bench) -> dict:
    bench.read_out()
    return bench.host.published["tally"]


@pytest.fixture
def bench():
    made = Bench(Host(), "pushed-conductor")
    made.kept = []
    made.tally.keep = made.kept.append
    return made


def test_the_first_vote_is_hidden_while_the_class_votes_again_and_then_stands_beside_the_second(bench):
    first, second, *_ = asked(bench)
    round_before = vote(bench, first, first, second)["round"]
    bench.receive({"do": "tally", "large": True})
    shown = tally(bench)
    assert (shown["counts"][first], shown["counts"][second], shown["before"], shown["large"], shown["vote"]) == (2, 1, None, True, 1)
    bench.receive({"do": "again"})
    shown = tally(bench)
    assert (shown["counts"], shown["before"], shown["large"], shown["answered"], shown["vote"]) == (None, None, False, 0, 2)
    assert shown["round"] > round_before, "each follower may choose afresh"
    vote(bench, second, second, second)
    assert tally(bench)["counts"] is None and bench.prediction.waiting
    bench.receive({"do": "answer", "choice": bench.prediction.question.answer})
    shown = tally(bench)
    assert shown["before"] == {value: {first: 2, second: 1}.get(value, 0) for value in shown["counts"]}
    assert shown["counts"] == {value: {second: 3}.get(value, 0) for value in shown["counts"]}


def test_there_is_a_second_vote_only_after_a_first_and_no_third(bench):
    first, *_ = asked(bench)
    bench.receive({"do": "again"})
    assert "voted on again once" in bench.host.published["notice"]["text"] and tally(bench)["vote"] == 1
    vote(bench, first)
    bench.receive({"do": "again"})
    vote(bench, first)
    before = tally(bench)
    bench.receive({"do": "again"})
    assert tally(bench) == before and bench.host.published["notice"]["text"]
    bench.receive({"do": "answer", "choice": first})
    bench.receive({"do": "again"})
    assert tally(bench)["answered"] == 1


def test_a_follower_cannot_have_it_asked_again(bench):
    first, *_ = asked(bench)
    before = vote(bench, first)
    page = Viewer(lambda text: None, (), "class", lambda: None, None, "visitor 9", "192.0.2.7")
    for message in ({"do": "again"}, {"do": "tally", "large": True}):
        bench.receive(message, page)
    assert tally(bench) == before


def test_each_vote_that_is_over_is_kept_once(bench):
    first, second, *_ = asked(bench)
    vote(bench, first, second)
    bench.receive({"do": "again"})
    vote(bench, second, second)
    bench.receive({"do": "answer", "choice": second})
    for _ in range(3):
        bench.read_out()
    asked(bench)  # and one that nobody answers but is put away
    vote(bench, first)
    bench.receive({"do": "scene", "name": "two-wires"})
    bench.read_out()
    asked(bench)
    bench.receive({"do": "enough"})  # and one without votes
    bench.read_out()
    assert [(each.vote, sum(each.counts.values())) for each in bench.kept] == [(1, 2), (2, 2), (1, 1)]
    assert all("scene=pushed-conductor" in each.address and "ask=7" in each.address for each in bench.kept)
    words = bench.kept[1].counts
    assert [count for count in words.values() if count] == [2] and bench.kept[0].answer in words


def planned() -> LessonBench:
    step = Step("pushed-conductor", {"current": 5.0}, question=True, vote=True)
    return LessonBench(Host(), Lesson("A lesson", (step, Step("two-wires"))))


def onward(bench: LessonBench) -> str:
    bench.read_out()
    return bench.host.published_to[SPEAKER]["prompt"]["onward"]


def test_a_step_can_plan_both_votes_and_going_on_leads_through_them():
    bench = planned()
    first, *_ = [value for value, _ in bench.prediction.question.choices]
    vote(bench, first)
    assert onward(bench) and bench.host.published_to[SPEAKER]["prompt"]["counts"][first] == 1, "the speaker has it before the class"
    assert tally(bench)["counts"] is None
    found = []
    for _ in range(5):
        found.append((onward(bench), tally(bench)["vote"], tally(bench)["large"], bench.prediction.waiting, bench.place))
        bench.receive({"do": "next"})
        if tally(bench)["vote"] == 2 and not tally(bench)["answered"]:
            vote(bench, first, first)
    assert found == [
        ("Show the votes", 1, False, True, 0), ("Ask again", 1, True, True, 0), ("Show the votes", 2, False, True, 0),
        ("Show the answer", 2, True, True, 0), ("Next", 2, False, False, 0),  # what happens then is to be seen
    ]  # fmt: skip
    assert bench.place == 1


def test_what_is_shown_of_a_planned_vote_is_not_changed_and_the_speaker_knows_it_before():
    bench = planned()
    first, second, *_ = [value for value, _ in bench.prediction.question.choices]
    vote(bench, first)
    onward(bench)
    votes = bench.host.published_to[SPEAKER]["prompt"]["counts"]
    assert votes[first] == 1 and sum(votes.values()) == 1 and tally(bench)["counts"] is None and not tally(bench)["closed"]
    bench.receive({"do": "next"})
    vote(bench, second, second)  # each from a telephone that may have answered before
    assert tally(bench)["closed"] and tally(bench)["counts"] == votes
    bench.receive({"do": "next"})
    vote(bench, second)
    bench.receive({"do": "next"})
    assert tally(bench)["before"] == votes and tally(bench)["counts"][second] == 1


def test_a_planned_vote_that_nobody_has_answered_is_passed_over_only_when_that_was_said():
    bench = planned()
    first, *_ = [value for value, _ in bench.prediction.question.choices]
    for again in (False, True):  # the first vote and the second
        assert onward(bench) == f"Show the answer without a {'second ' if again else ''}vote"
        bench.receive({"do": "next"})
        assert "obody has voted" in bench.host.published["notice"]["text"] and bench.prediction.waiting
        if not again:
            vote(bench, first)
            bench.receive({"do": "next"})  # shows it
            assert tally(bench)["large"] and not bench.host.published["notice"]["text"]
            bench.receive({"do": "next"})  # asks again
    bench.receive({"do": "next"})
    assert not bench.prediction.waiting and bench.place == 0 and not bench.host.published["notice"]["text"]


def test_votes_are_kept_in_a_file_and_written_for_a_spreadsheet(bench, tmp_path, capsys):
    file, out = tmp_path / "votes.jsonl", tmp_path / "votes.csv"
    with kept_in(file) as keep:
        bench.tally.keep = keep
        first, second, *_ = asked(bench)
        vote(bench, first, first, second)
        bench.receive({"do": "answer", "choice": second})
    (line,) = [json.loads(text) for text in file.read_text("utf-8").splitlines()]
    assert line["version"] == 1 and set(line) == {"version", "when", "address", "question", "vote", "counts", "answer"}
    assert "visitor" not in file.read_text("utf-8") and "192.0.2.7" not in file.read_text("utf-8")
    assert main(["votes", str(file), "--csv", str(out)]) == 0
    rows = list(csv.DictReader(io.StringIO(out.read_text("utf-8"))))
    words = dict(bench.prediction.question.choices)
    assert {row["answer"]: int(row["votes"]) for row in rows} == {words[value]: {first: 2, second: 1}.get(value, 0) for value in words}
    assert [row["answer"] for row in rows if row["right"] == "yes"] == [words[bench.prediction.question.answer]]
    assert main(["votes", str(file), "--csv", str(file)]) == 2 and "another file" in capsys.readouterr().err
    assert main(["votes", str(tmp_path / "none"), "--csv", str(out)]) == 2
    assert main(["--votes", str(file), "--no-browser"]) == 2 and "--share" in capsys.readouterr().err


def test_a_damaged_file_of_votes_is_set_aside_and_the_others_kept(tmp_path):
    dice = random.Random(2)
    line = {
        "version": 1,
        "when": "2026-03-09T14:05:30Z",
        "address": "scene=two-wires",
        "question": "?",
        "vote": 1,
        "counts": {"a": 2},
        "answer": "a",
    }
    for number, change in enumerate(
        ({"vote": 3}, {"counts": [1]}, {"counts": {"a": -1}}, {"counts": {"a": True}}, {"when": "x"}, {"answer": 1})
    ):
        file = tmp_path / f"{number}.jsonl"
        file.write_text(f"{json.dumps(line)}\n{json.dumps(line | change)}\n{json.dumps(line)[: dice.randint(1, 80)]}\n")
        votes = Votes(file)
        votes.open()
        assert votes.entries == [Vote(**{name: value for name, value in line.items() if name != "version"})]
        assert file.with_name(f"{number}.damaged-1.jsonl").exists() and len(votes.told) == 1


def test_whatever_the_class_sends_no_vote_is_made_up(bench):
    asked(bench)
    page = Viewer(lambda text: None, (), "class", lambda: None, None, "visitor", "192.0.2.7")
    sender = hostile.Sender(random.Random(4), catalogue.NAMES)
    for _ in range(200):
        bench.host.receive(page, sender.text(bench))
    assert tally(bench)["vote"] == 1 and tally(bench)["answered"] <= 1 and bench.kept == []
