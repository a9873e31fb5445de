"""`thumbwise workings TOPIC`: calculations with formula, numbers and result."""

from __future__ import annotations

import argparse
import re

import numpy as np

from scenes.commands.command_line import Parser, Said, add_json, no_such, number, print_json
from scenes.workings import circuit, conductors, nameplate, speeds, starting
from scenes.workings.writing import Topic, Working, as_data, as_text

SUMMARY = "calculations set out as on the board"

BEYOND = "These numbers give results too large or too small to compute."

TOPICS = {
    topic.name: topic
    for topics in (
        speeds.TOPICS,
        nameplate.TOPICS,
        circuit.TOPICS,
        starting.TOPICS,
        conductors.TOPICS,
    )
    for topic in topics
}


def run(arguments: list[str]) -> None:
    name = next((word for word in arguments if not word.startswith("-")), None)
    if name is not None and name not in TOPICS:
        raise no_such("topic", name, TOPICS)
    wanted = vars(_parser().parse_args(arguments))
    topic, as_json = TOPICS[wanted.pop("topic")], wanted.pop("json")
    working = _worked(topic, {name: value for name, value in wanted.items() if value is not None})
    if as_json:
        print_json(as_data(working))
    else:
        print(as_text(working))


def _parser() -> Parser:
    lines = [f"  {topic.name:<18}  {topic.summary}" for topic in TOPICS.values()]
    parser = Parser(
        "thumbwise workings",
        description="Calculations set out as on the board: formula, numbers substituted, result.",
        epilog="\n".join(["topics, each with its own --help, which gives the units:", *lines]),
        formatter_class=argparse.RawDescriptionHelpFormatter,
    )
    topics = parser.add_subparsers(dest="topic", metavar="TOPIC", required=True)
    for topic in TOPICS.values():
        one = topics.add_parser(topic.name, description=f"{topic.summary[0].upper()}{topic.summary[1:]}.")
        for ask in topic.asks:
            words = f"{ask.words} ({ask.unit})" if ask.unit else ask.words
            one.add_argument(
                _option(ask.name),
                required=ask.needed,
                type=str if ask.choices else number,
                choices=ask.choices or None,
                metavar="|".join(ask.choices) or ask.unit or "N",
                help=words.replace("%", "%%"),
            )
        add_json(one)
    return parser


def _worked(topic: Topic, values: dict) -> Working:
    """The working; an error about an argument is reported for the option that gave it."""
    try:
        with np.errstate(all="ignore"):  # overflow is checked for afterwards
            working = topic.work(**values)
    except ArithmeticError:
        raise Said(BEYOND) from None
    except ValueError as wrong:
        raise Said(f"{_of_options(str(wrong), topic)}; see thumbwise workings {topic.name} --help.") from None
    if not all(np.isfinite(result.value) for step in working.steps for result in step.results):
        raise Said(BEYOND)
    return working


def _of_options(text: str, topic: Topic) -> str:
    """Argument names in an error message as options: the first word, and names that cannot be plain words."""
    for ask in topic.asks:
        text = re.sub(rf"^{ask.name}\b" if "_" not in ask.name else rf"\b{ask.name}\b", _option(ask.name), text)
    return text


def _option(name: str) -> str:
    return f"--{name.replace('_', '-')}"
