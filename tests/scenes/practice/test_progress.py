"""Progress over the weeks, counted by hand."""

from __future__ import annotations

from dataclasses import replace
from datetime import date

from scenes import catalogue
from scenes.__main__ import main
from scenes.practice.progress import Share, in_words, progress
from scenes.practice.results import Results
from tests.scenes.practice.answers import answered, keep

POLES = "poles for pole pairs"


def on(day: str, *args, **more):
    return replace(answered(*args, **more), when=f"{day}T10:00:00Z")


ANSWERS = [
    on("2026-03-01", "alternator", 1, True, "forward"),  # a Sunday: of the week from 23 February
    on("2026-03-02", "alternator", 2, False, "figure", POLES),  # a Monday
    on("2026-03-08", "alternator", 3, False, "poles", POLES),
    on("2026-03-09", "turning-field", 4, False, "forward", "seen from the other end or phase order left out"),
    on("2026-03-10", "turning-field", 5, True, "figure"),
]


def test_answers_count_in_their_weeks_from_monday_to_sunday():
    found = progress(ANSWERS, date(2026, 3, 11))
    assert [week.isoformat() for week in found.weeks] == ["2026-02-23", "2026-03-02", "2026-03-09"]
    assert found.shares == (Share(1, 1), Share(0, 2), Share(1, 2))


def test_the_weeks_begin_with_the_first_answer_and_are_eight_at_most():
    assert [len(progress(ANSWERS, day).weeks) for day in (date(2026, 2, 25), date(2026, 3, 25), date(2026, 6, 1))] == [1, 5, 8]
    assert len(progress([], date(2026, 3, 11)).weeks) == 1
    assert "  2 Mar 2026  0 of 2 right" in in_words(progress(ANSWERS, date(2026, 3, 11)))


def test_every_wrong_answer_with_a_mistake_counts_once_and_where_several_give_it_they_count_together():
    found = progress(ANSWERS, date(2026, 3, 11))
    either = "seen from the other end or phase order left out"
    assert [(mistake.name, mistake.by_week[-3:]) for mistake in found.mistakes] == [(POLES, (0, 2, 0)), (either, (0, 0, 1))]
    three = [on("2026-03-10", "pushed-conductor", 6 + more, False, "forward", "a or b or c") for more in range(2)]
    found = progress([*ANSWERS, *three, on("2026-03-10", "pushed-conductor", 9, False, "why", "a")], date(2026, 3, 11))
    assert {mistake.name: sum(mistake.by_week) for mistake in found.mistakes} == {POLES: 2, either: 1, "a, b or c": 2, "a": 1}
    assert "  a, b or c: 2, this week 2" in in_words(found)


def test_topics_tell_what_is_known_and_what_comes_back():
    alternator, field = progress(ANSWERS, date(2026, 3, 11)).topics
    assert (alternator.title, alternator.share) == (catalogue.scene_class("alternator").title, Share(1, 3))
    assert (alternator.known, alternator.coming_back, alternator.kinds) == (1, 2, len(catalogue.scene_class("alternator").kinds))
    # two mistakes give the same answer: the question why comes as well, but was not wrong
    assert (field.known, field.coming_back) == (1, 1)


def test_the_command_tells_it_and_asks_nothing(tmp_path, capsys):
    file = tmp_path / "answers.jsonl"
    kept = Results(file)
    kept.open()
    for answer in ANSWERS:
        keep(kept, answer)
    assert main(["practice", "--progress", "--results", str(file)]) == 0
    out = capsys.readouterr().out
    assert f"{catalogue.scene_class('alternator').title}: 1 of 3 right; 1 of 6 kinds of question known, 2 to come back" in out
