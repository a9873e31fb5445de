"""`thumbwise ask SCENE`: a scene's question and its answer, or whether a prediction is right, without a browser."""

from __future__ import annotations

import argparse

from scenes.bench.own_words import choice_meant
from scenes.bench.prediction import LARGEST_SEED
from scenes.commands.command_line import Parser, UsageError, add_json, add_scene, print_json, reported, scene_set_up, whole_number
from scenes.questions.kinds import as_it_stands, draw, kind_of, with_own_mistakes
from scenes.questions.mistakes import mistake_in, told_against
from scenes.scene.question import Question

SUMMARY = "put a scene's question about a set-up and answer it, without a browser"


def add_options(parser: Parser) -> None:
    add_scene(parser)
    parser.add_argument("--kind", metavar="NAME", help="a question of that kind, of those that `thumbwise scenes` lists")
    parser.add_argument(
        "--seed",
        type=whole_number(1, LARGEST_SEED),
        metavar="N",
        help="with --kind: the set-up that belongs to that number, in place of the one given",
    )
    parser.add_argument("--predict", metavar="ANSWER", help="your prediction, to be marked right or wrong")
    add_json(parser)


def run(wanted: argparse.Namespace) -> None:
    question = _put(wanted)
    try:
        predicted = None if wanted.predict is None else choice_meant(question, wanted.predict)
    except ValueError as wrong:
        if not wanted.json:
            _tell(question)  # without it nobody knows what could be answered
        raise UsageError(str(wrong)) from wrong
    if wanted.json:
        print_json(_as_data(question, predicted))
        return
    _tell(question)
    right = predicted is not None and question.is_right(predicted)
    if predicted is not None:
        against = "" if right else told_against(question, predicted)
        print(f"{'Right' if right else 'Wrong'}: {question.words_of(predicted)}. {against}".strip())
    if right:
        print(question.reason)
    else:
        answer = question.words_of(question.answer)
        print(f"{answer[:1].upper()}{answer[1:]}. {question.reason}")


def _tell(question: Question) -> None:
    print(question.text)
    if question.choices:
        print("  " + " | ".join(words for _, words in question.choices))


def _put(wanted: argparse.Namespace) -> Question:
    scene = scene_set_up(wanted)
    if wanted.kind is None:
        if wanted.seed is not None:
            raise UsageError("--seed goes with --kind.")
        return with_own_mistakes(scene, scene.question())
    with reported(ValueError):
        kind = kind_of(scene, wanted.kind)
        drawn = as_it_stands(scene, kind, scene.settings) if wanted.seed is None else draw(scene, kind, wanted.seed)
        return drawn.question(scene)


def _as_data(question: Question, predicted: str | None) -> dict[str, object]:
    data: dict[str, object] = {
        "question": question.text,
        "kind": question.kind,
        "answered": question.answered,
        "choices": [{"value": value, "words": words} for value, words in question.choices],
        "answer": question.answer,
        "reason": question.reason,
    }
    if predicted is not None:
        data |= {"predicted": predicted, "right": question.is_right(predicted), "mistake": mistake_in(question, predicted)}
    return data
