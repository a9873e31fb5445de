"""Nothing is won by guessing: not by the place of a choice, by its rank or by its words, and no word of the set-up gives the answer away.

The bound: what is guessed is right at most 1.3 times its share. A fair question exceeds it by chance where few are drawn, so up to four
standard deviations above the share are let pass: more than a thousand guesses are counted here, and of so many fair ones hardly any lies
beyond. With THUMBWISE_STATES=1000 a thousand of each kind are drawn, and with k choices 0.3 of the share are 0.3 sqrt(1000 / (k - 1))
standard deviations: 9.5 with two choices, 4.2 with six. The bound is then the bound; only with seven to nine choices four standard
deviations are a little more, 1.31 to 1.36 times the share. (Sampling theory of a binomial share, any textbook. What is drawn depends on
the seeds alone, and so does the outcome.)
"""

from __future__ import annotations

import math
import re
from collections import Counter, defaultdict

import pytest

from scenes import catalogue
from scenes.questions.kinds import kind_of
from tests.scenes.questions.drawn import Put, drawn, scene

MORE_THAN_ITS_SHARE = 1.3
DEVIATIONS = 4
NEVER = 9  # times that something should be right, from where it is no chance that it never is (e^-9)
FEW = 10  # choices; where everything that there is can be pressed, it stands in the order in which it lies
TELLS = 0.8  # share in which one answer is right of the draws with a word, from which the word gives it away
# where one thing decides, and that is what is to be known: which method, how much heat; what a part is, from what it does
BY_NATURE = {
    ("braking", "forward"), ("braking", "heat"), ("braking", "method"),
    *(("inside-a-motor", kind) for kind in ("forward", "place", "name", "compare")),
}  # fmt: skip
LENGTHS = 1.5  # times that the longest reason is as long as the shortest, from which one sees it


def chosen(name: str) -> dict[str, list[Put]]:
    """By kind."""
    found = defaultdict(list)
    for put in drawn(name):
        if put.question.choices and len(put.question.choices) < FEW:
            found[put.kind].append(put)
    return found


def bound(shares: list[float], times: float = MORE_THAN_ITS_SHARE) -> float:
    """How often something may be right that should be with these shares."""
    expected, spread = sum(shares), math.sqrt(sum(share * (1 - share) for share in shares))
    return max(times * expected, expected + DEVIATIONS * spread)


def too_often(guesses: list[tuple[object, bool, float]]) -> list:
    """Of guesses, each with what is guessed, whether it is right and its share: what is right too often."""
    right, shares = Counter(), defaultdict(list)
    for what, is_right, share in guesses:
        right[what] += is_right
        shares[what].append(share)
    return [what for what in shares if right[what] > bound(shares[what])]


def values_of(put: Put) -> list[str]:
    return [value for value, _ in put.question.choices]


def figure_in(words: str) -> float | None:
    found = re.search(r"\d+(\.\d+)?", words)
    return float(found[0]) if found else None


@pytest.mark.parametrize("name", catalogue.NAMES)
def test_no_place_is_right_more_than_its_share(name):
    """Of all kinds together, and of each."""
    guesses = [
        ((of, len(values), place), values[place] == put.question.answer, 1 / len(values))
        for kind, puts in chosen(name).items()
        for put in puts
        for values in [values_of(put)]
        for place in range(len(values))
        for of in (kind, "any")
    ]
    assert not too_often(guesses)


@pytest.mark.parametrize("name", catalogue.NAMES)
def test_no_rank_is_right_more_than_its_share(name):
    """Where the choices are figures, by their size; where they are reasons, by their length too, if these differ much."""
    for kind, puts in chosen(name).items():
        guesses = []
        for put in puts:
            figures = {value: figure_in(words) for value, words in put.question.choices}
            lengths = {value: float(len(words)) for value, words in put.question.choices}
            for what, sizes in (("figure", figures), ("length", lengths)):
                if None in sizes.values() or len(set(sizes.values())) < len(sizes):
                    continue
                if what == "length" and (kind != "why" or max(sizes.values()) < LENGTHS * min(sizes.values())):
                    continue
                ranked = sorted(sizes, key=lambda value, sizes=sizes: sizes[value])
                guesses += [((what, len(ranked), rank), value == put.question.answer, 1 / len(ranked)) for rank, value in enumerate(ranked)]
        assert not too_often(guesses), kind


@pytest.mark.parametrize("name", catalogue.NAMES)
def test_no_answer_is_right_more_than_its_share_and_none_never(name):
    """By its words, as one says who always answers the same: where the same few are always offered. Where an answer is worked out by a run
    that takes long, set-ups are not drawn until each comes up evenly, but each does come up."""
    for kind, puts in chosen(name).items():
        if len({frozenset(words for _, words in put.question.choices) for put in puts}) > 1:
            continue
        guesses = [
            (words, value == put.question.answer, 1 / len(put.question.choices)) for put in puts for value, words in put.question.choices
        ]
        assert not kind_of(scene(name), kind).even or not too_often(guesses), kind
        right = {words for words, is_right, _ in guesses if is_right}
        assert len(puts) / len(puts[0].question.choices) < NEVER or right == {words for words, _, _ in guesses}, kind


@pytest.mark.parametrize("name", catalogue.NAMES)
def test_no_word_of_a_set_up_gives_the_answer_away_alone(name):
    """Whoever knows no more than that a word is in some questions of a kind and not in others cannot tell the answer from it."""
    for kind, puts in chosen(name).items():
        if kind == "why" or (name, kind) in BY_NATURE:
            continue
        answers = defaultdict(list)
        for put in puts:
            for word in set(re.findall(r"[a-zA-Z][\w-]*", put.question.text)):
                answers[word].append(put.question.words_of(put.question.answer))
        telling = [
            (word, answer)
            for word, of in answers.items()
            if len(of) < len(puts)
            for answer, times in Counter(of).most_common(1)
            if times > bound([TELLS] * len(of), 1.0)
        ]
        assert not telling, kind


@pytest.mark.parametrize("name", catalogue.NAMES)
def test_a_reason_is_not_given_away_by_the_words_that_it_shares_with_the_set_up(name):
    """Whoever takes the reason with most of the set-up's own words is right in no more than every second question."""
    right, asked = 0.0, 0
    for put in chosen(name).get("why", []):
        words = {value: set(re.findall(r"[\w.-]+", value)) for value, _ in put.question.choices}
        common = set.intersection(*words.values())
        said = set(re.findall(r"[\w.-]+", put.question.text))
        shared = {value: len((own - common) & said) for value, own in words.items()}
        most = [value for value, count in shared.items() if count == max(shared.values())]
        asked += 1
        right += (put.question.answer in most) / len(most)
    assert right <= bound([0.5] * asked, 1.0)


def test_the_bound_is_that_itself_for_a_thousand_draws():
    for choices in range(2, FEW):
        assert bound([1 / choices] * 1000) == pytest.approx(1.3 * 1000 / choices, rel=0.05 if choices > 6 else 1e-9)
    assert bound([0.5] * 20) == pytest.approx(10 + 4 * math.sqrt(5)) and bound([0.25] * 16) == pytest.approx(4 + 4 * math.sqrt(3))
