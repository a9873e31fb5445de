"""What the commands share: a parser that reports errors in one sentence, a scene set up as requested, JSON."""

from __future__ import annotations

import argparse
import json
import re
from collections.abc import Callable, Collection
from difflib import get_close_matches

from physics.arguments import quoted
from scenes import catalogue
from scenes.scene.scene import Scene

NEGATIVE = re.compile(r"-(\d|\.\d|inf|nan)\S*", re.IGNORECASE)


class Said(Exception):
    """A user's mistake, in one sentence."""


class Parser(argparse.ArgumentParser):
    """A parser that reports an error in one sentence, without the usage text."""

    def error(self, message):
        # argparse says "argument --port: takes a number"; an option is a subject like any other
        message = re.sub(r"^argument (\S+): (takes|expected) ", r"\1 \2 ", message)
        message = re.sub(r"^argument (\S+): invalid choice: (.+) \(choose from (.+)\)$", r"\1 takes one of \3, not \2", message)
        raise Said(f"{message[0].upper()}{message[1:]}; see {self.prog} --help.")

    def parse_args(self, arguments=None, namespace=None):
        # argparse mistakes -2e-3 for an option; as --option=-2e-3 it is a value
        joined: list[str] = []
        for word in arguments or []:
            if joined and joined[-1].startswith("--") and "=" not in joined[-1] and NEGATIVE.fullmatch(word):
                joined[-1] += f"={word}"
            else:
                joined.append(word)
        return super().parse_args(joined, namespace)


def number(text: str) -> float:
    """Parse an option's number."""
    try:
        return float(text)
    except ValueError:
        raise argparse.ArgumentTypeError(f"takes a number, not {text!r}") from None


def whole_number(least: int, most: int) -> Callable[[str], int]:
    """A parser for an option that takes a whole number from `least` to `most`."""

    def parsed(text: str) -> int:
        if not (text.isdecimal() and text.isascii() and len(text) < 10 and least <= int(text) <= most):
            raise argparse.ArgumentTypeError(f"takes a whole number from {least} to {most}, not {text!r}")
        return int(text)

    return parsed


def no_such(kind: str, name: str, names: Collection[str]) -> Said:
    """The error for an unknown name, with the nearest known one, or all of them."""
    near = get_close_matches(name, names, 1, 0.4)
    hint = f"did you mean {near[0]}?" if near else f"there are {', '.join(names)}."
    return Said(f"There is no {kind} {quoted(name)}; {hint}")


def print_json(value) -> None:
    print(json.dumps(value, indent=2, ensure_ascii=False, allow_nan=False))


def add_json(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("--json", action="store_true", help="print JSON")


def add_scene(parser: argparse.ArgumentParser, **more) -> None:
    """Add the options for a scene and its settings."""
    parser.add_argument("scene", metavar="SCENE", help="the scene's name (thumbwise scenes lists them)", **more)
    parser.add_argument(
        "--set",
        action="append",
        default=[],
        metavar="name=value",
        help="set a control (listed there too); may be repeated",
    )


def settings(pairs: list[str]) -> dict[str, str]:
    """The controls given with --set, by name."""
    found = {}
    for pair in pairs:
        name, equals, value = pair.partition("=")
        if not equals or not name:
            raise Said(f"--set takes name=value, not {pair!r}.")
        found[name] = value
    return found


def scene_set_up(name: str, values: dict) -> Scene:
    """The scene of that name, with those settings, at its start."""
    try:
        scene = catalogue.scene_class(name)()
        scene.set_all(values)
    except ValueError as wrong:
        raise Said(str(wrong)) from None
    scene.restart()
    return scene
