"""Nothing is won by guessing: not by the place of a choice, not by its rank, not by a word of the set-up."""

from __future__ import annotations

import math
import re
from collections import defaultdict

import pytest

from scenes import catalogue
from tests.scenes.questions.drawn import Put, drawn

MORE_THAN_ITS_SHARE = 1.3
TELLS = 0.97  # share of the draws with a word in which one answer is right, from which the word gives it away
FEWEST = 4  # times that it should be right, below which it is all chance
OFTEN = 8  # draws from which that is judged


def chosen(name: str) -> list[Put]:
    """Without those where everything that there is can be pressed, in the order in which it lies."""
    return [put for put in drawn(name) if put.question.choices and len(put.question.choices) < 10]


def too_often(right: float, shares: list[float]) -> bool:
    """Whether something is right more than 1.3 times its share, and that is more than three standard deviations of chance."""
    expected = sum(shares)
    if expected < FEWEST:
        return False
    by_chance = 3 * math.sqrt(sum(share * (1 - share) for share in shares))
    return right > expected + max((MORE_THAN_ITS_SHARE - 1) * expected, by_chance)


def figure_in(words: str) -> float | None:
    found = re.search(r"\d+(\.\d+)?", words)
    return float(found[0]) if found else None


@pytest.mark.parametrize("name", catalogue.NAMES)
def test_no_place_is_right_more_than_its_share(name):
    right, shares = defaultdict(int), defaultdict(list)
    for put in chosen(name):
        values = [value for value, _ in put.question.choices]
        for place in range(len(values)):
            shares[place].append(1 / len(values))
        right[values.index(put.question.answer)] += 1
    assert not [place for place in shares if too_often(right[place], shares[place])]


@pytest.mark.parametrize("name", catalogue.NAMES)
def test_no_rank_is_right_more_than_its_share(name):
    """Where the choices are figures, by their size; where they are reasons, by their length too, if these differ much."""
    right, shares = defaultdict(int), defaultdict(list)
    for put in chosen(name):
        figures = {value: figure_in(words) for value, words in put.question.choices}
        lengths = {value: float(len(words)) for value, words in put.question.choices}
        for what, sizes in (("figure", figures), ("length", lengths)):
            if None in sizes.values() or len(set(sizes.values())) < len(sizes):
                continue
            ranked = sorted(sizes, key=lambda value: sizes[value])
            if what == "length" and (put.kind != "why" or lengths[ranked[-1]] < 1.2 * lengths[ranked[0]]):
                continue
            for rank in range(len(ranked)):
                shares[put.kind, what, len(ranked), rank].append(1 / len(ranked))
            right[put.kind, what, len(ranked), ranked.index(put.question.answer)] += 1
    assert not [key for key in shares if too_often(right[key], shares[key])]


@pytest.mark.parametrize("name", catalogue.NAMES)
def test_every_choice_that_is_offered_often_is_right_sometimes(name):
    offered, right = defaultdict(int), defaultdict(int)
    for put in chosen(name):
        for value, _ in put.question.choices:
            offered[put.kind, value] += 1
        right[put.kind, put.question.answer] += 1
    never = [key for key, count in offered.items() if count >= 20 and not right[key]]
    assert not [key for key in never if len(key[1]) < 25], "none is there to fill up"


@pytest.mark.parametrize("name", catalogue.NAMES)
def test_no_word_of_a_set_up_gives_the_answer_away_alone(name):
    """A word that is in some questions of a kind and not in others does not come with one answer always, where there are several."""
    for kind in {put.kind for put in chosen(name)} - {"why"}:
        puts = [put for put in chosen(name) if put.kind == kind]
        answers = {put.question.answer for put in puts}
        if len(answers) < 2 or len(answers) > 6 or len(puts) < 3 * OFTEN:
            continue
        with_it = defaultdict(list)
        for put in puts:
            for word in set(re.findall(r"[a-zA-Z][\w-]*", put.question.text)):
                with_it[word].append(put.question.answer)
        telling = {
            word: most
            for word, came in with_it.items()
            if OFTEN <= len(came) < len(puts)
            for most in [max(came.count(answer) for answer in set(came)) / len(came)]
            if most > TELLS
        }
        assert not telling, (name, kind)


@pytest.mark.parametrize("name", catalogue.NAMES)
def test_a_reason_is_not_found_by_the_words_that_it_shares_with_the_set_up(name):
    right, shares = 0, []
    for put in chosen(name):
        if put.kind != "why":
            continue
        words = {value: set(re.findall(r"[\w.-]+", value)) for value, _ in put.question.choices}
        common = set.intersection(*words.values())
        said = set(re.findall(r"[\w.-]+", put.question.text))
        shared = {value: len((own - common) & said) for value, own in words.items()}
        most = [value for value, count in shared.items() if count == max(shared.values())]
        shares.append(1 / len(shared))
        right += (put.question.answer in most) / len(most)
    assert not shares or not too_often(right, shares)
