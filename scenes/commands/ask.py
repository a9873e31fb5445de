"""`thumbwise ask SCENE`: a scene's question and its answer, or whether a prediction is right, without a browser."""

from __future__ import annotations

import argparse

from scenes.bench.own_words import choice_meant
from scenes.commands.command_line import Parser, add_json, add_scene, print_json, reported, scene_set_up
from scenes.scene.scene import Question

SUMMARY = "put a scene's question about a set-up and answer it, without a browser"


def add_options(parser: Parser) -> None:
    add_scene(parser)
    parser.add_argument("--predict", metavar="ANSWER", help="your prediction, to be marked right or wrong")
    add_json(parser)


def run(wanted: argparse.Namespace) -> None:
    question = scene_set_up(wanted).question()
    with reported(ValueError):
        predicted = None if wanted.predict is None else choice_meant(question, wanted.predict)
    if wanted.json:
        print_json(_as_data(question, predicted))
        return
    words = dict(question.choices)
    print(question.text)
    print("  " + " | ".join(words.values()))
    if predicted is not None:
        print(f"{'Right' if predicted == question.answer else 'Wrong'}: {words[predicted]}.")
    if predicted != question.answer:
        print(f"{words[question.answer][:1].upper()}{words[question.answer][1:]}. {question.reason_after(predicted)}")
    else:
        print(question.reason)


def _as_data(question: Question, predicted: str | None) -> dict[str, object]:
    data: dict[str, object] = {
        "question": question.text,
        "choices": [{"value": value, "words": words} for value, words in question.choices],
        "answer": question.answer,
        "reason": question.reason,
    }
    if predicted is not None:
        data |= {"predicted": predicted, "right": predicted == question.answer}
    return data
