"""For what a sheet's marks are given: each is asked for, and the key says which part of the answer it is for."""

from __future__ import annotations

import re

import pytest

from scenes.worksheet.page import key_page, questions_page
from scenes.worksheet.worksheet import KINDS, sheet
from tests.scenes.worksheet.printed import numbers


def test_marks_stand_at_each_question_and_add_up_to_the_total():
    made = sheet(30, 5)
    asked, answered = questions_page([made], "a4"), key_page([made], "a4")
    for page in (asked, answered):
        each = [int(number) for number in re.findall(r'class="marks">\((\d+) marks?\)', page)]
        assert each == [KINDS[question.kind].marks for question in made.questions] and min(each) >= 1
    assert f"/ {sum(each)}</p>" in asked and f"{sum(each)} marks)" in answered


def given(point: str) -> int:
    """The marks for a point, by its words."""
    marks, times = re.fullmatch(r"(\d+) for (?:each of the (\d+) )?.+", point).groups()
    return int(marks) * int(times or 1)


@pytest.mark.parametrize("kind", KINDS)
def test_the_key_gives_marks_for_each_part_of_the_answer_and_for_the_method_and_they_are_all(asked, kind):
    for question in asked[kind]:
        if question.marks == 1:
            assert question.marking == []
            continue
        assert sum(map(given, question.marking)) == question.marks, question.marking
        cells = [cell for row in question.table for cell in row].count("")
        if cells:
            assert question.marking == [f"1 for each of the {cells} cells"]
            continue
        for part in question.answer.split("; "):
            assert [point for point in question.marking if point.startswith(f"1 for \u201c{part}\u201d (")], (part, question.marking)
        for low, high in question.accepted:  # a figure with its unit, where it has one
            (point, *_) = [point for point in question.marking if any(low <= number <= high for number in numbers(point)[1:])]
            unit_of_it = re.search(r"\d ?(%|°|[A-Za-zµΩ]{1,2}\b)", point.partition("(")[0])
            assert point.endswith("(figure and unit)" if unit_of_it else "(figure)"), point
        assert all(given(point) == 1 for point in question.marking), "two marks for one thing: for which half of it is one given?"


# what is written or drawn for a mark that no part of the answer gets, and the words of the question that ask for it
ASKED_FOR = {
    "reason": "Say why|and why", "why": "Why|Say why", "fingers": "which finger", "drawn": "[Dd]raw", "dot|cross": "a dot or a cross",
    "working": r"\d|Find", "clips": "What does the ohmmeter show",
    "reading|2 R|R is|third pair|windings have|does to the field": "Say why", "changing over": "What does changing over",
}  # fmt: skip


@pytest.mark.parametrize("kind", KINDS)
def test_nothing_has_a_mark_that_is_not_asked_for(asked, kind):
    for question in asked[kind]:
        for point in question.marking:
            if "each of the" in point or "\u201c" in point:
                continue
            wanted = [words for for_it, words in ASKED_FOR.items() if re.search(rf"\b({for_it})\b", point)]
            assert wanted and all(re.search(words, question.text) for words in wanted), (point, question.text)
            assert "working" not in point or not question.choices, (point, question.choices)


def test_a_sheet_says_that_the_working_has_marks_and_its_key_that_an_error_counts_once():
    made = [sheet(3, 1)]
    assert re.search("how you find a figure.*marks", questions_page(made, "a4"))
    assert re.search("earlier wrong one.*counts once", key_page(made, "a4").partition("<section")[0])


@pytest.mark.parametrize("kind", KINDS)
def test_the_key_says_which_quantity_each_figure_is(asked, kind):
    """No two parts of an answer, and no two ranges, differ in nothing but their figure."""
    for question in asked[kind]:
        parts = [re.sub(r"[\d.]+", "#", part) for part in question.answer.split("; ")]
        told = [re.sub(r"[\d.]+", "#", each) for each in question.ranges]
        assert len(set(parts)) == len(parts) and len(set(told)) == len(told), (question.answer, question.ranges)


@pytest.mark.parametrize("kind", ["force-figure", "push", "waves", "battery", "coil-as-motor"])
def test_a_direction_is_marked_as_one(asked, kind):
    for question in asked[kind]:
        words = ("clockwise", "toward", "away", "to the left", "to the right", "up", "down", "o'clock")
        for point in question.marking:
            if "\u201c" not in point or any(sign in point for sign in ("nothing", "it does not", "it is not")):
                continue
            said = re.search("\u201c(.*)\u201d", point)[1]
            assert point.endswith("(direction)") is any(re.search(rf"(^|\W){word}(\W|$)", said) for word in words), point
