"""`thumbwise workings TOPIC`: calculations with formula, numbers and result."""

from __future__ import annotations

import argparse
import re

from scenes.commands.command_line import Parser, UsageError, add_json, number, print_json
from scenes.workings.topics import TOPICS, Beyond, worked
from scenes.workings.writing import Topic, Working, as_data, as_text

SUMMARY = "set a calculation out as on the board: formula, numbers substituted, result"


def add_options(parser: Parser) -> None:
    topics = parser.add_subparsers(dest="topic", metavar="TOPIC", required=True, title="topics, each with its own --help")
    for topic in TOPICS.values():
        one = topics.add_parser(topic.name, help=topic.summary, description=f"{topic.summary[0].upper()}{topic.summary[1:]}.")
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


def run(wanted: argparse.Namespace) -> None:
    topic = TOPICS[wanted.topic]
    given = {ask.name: getattr(wanted, ask.name) for ask in topic.asks}
    working = _worked(topic, {name: value for name, value in given.items() if value is not None})
    if wanted.json:
        print_json(as_data(working))
    else:
        print(as_text(working))


def _worked(topic: Topic, values: dict) -> Working:
    """The working; an error about an argument is reported for the option that gave it."""
    try:
        return worked(topic, values)
    except Beyond as wrong:
        raise UsageError(str(wrong)) from None
    except ValueError as wrong:
        raise UsageError(f"{_of_options(str(wrong), topic)}; see thumbwise workings {topic.name} --help.") from None


def _of_options(text: str, topic: Topic) -> str:
    """Argument names in an error message as options: the first word, and names that cannot be plain words."""
    for ask in topic.asks:
        text = re.sub(rf"^{ask.name}\b" if "_" not in ask.name else rf"\b{ask.name}\b", _option(ask.name), text)
    return text


def _option(name: str) -> str:
    return f"--{name.replace('_', '-')}"
