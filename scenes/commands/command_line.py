"""What the commands share: a parser that reports errors in one sentence, types of options, a scene set up as asked for, output."""

from __future__ import annotations

import argparse
import contextlib
import json
import os
import re
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any, BinaryIO

from physics.arguments import quoted
from scenes import catalogue
from scenes.files import replacing
from scenes.names import no_such
from scenes.scene.scene import Scene


class UsageError(Exception):
    """A user's mistake, in one sentence."""


class Parser(argparse.ArgumentParser):
    """A parser that reports an error in one sentence, without the usage text, and names the nearest subcommand."""

    def __init__(self, *arguments: Any, **named: Any):
        super().__init__(*arguments, **named)
        self.formatter_class = argparse.RawDescriptionHelpFormatter
        self._negative_number_matcher = re.compile(r"-(\d|\.\d|inf|nan)", re.IGNORECASE)  # before 3.14 not -2e-3

    def error(self, message):
        raise UsageError(f"{message[0].upper()}{' '.join(message[1:].split())}; see {self.prog} --help.")

    def parse_known_args(self, args=None, namespace=None):
        found, unknown = super().parse_known_args(args, namespace)
        if unknown:  # told by the subcommand, whose help lists what there is
            self.error(f"unrecognized arguments: {' '.join(unknown)}")
        return found, unknown

    def _check_value(self, action, value):
        if isinstance(action, argparse._SubParsersAction) and value not in action.choices:
            raise UsageError(no_such(action.dest, value, action.choices))
        super()._check_value(action, value)


@contextlib.contextmanager
def reported(*kinds: type[Exception]):
    """Report errors of these kinds, whose text is a sentence, as the user's mistake."""
    try:
        yield
    except kinds as wrong:
        raise UsageError(str(wrong)) from None


def number(text: str) -> float:
    """Parse an option's number."""
    try:
        return float(text)
    except ValueError:
        raise argparse.ArgumentTypeError(f"must be a number, not {quoted(text)}") from None


def number_within(least: float, most: float, unit: str) -> Callable[[str], float]:
    """A parser for an option that takes a number from `least` to `most`, in that unit."""

    def parsed(text: str) -> float:
        if not least <= (value := number(text)) <= most:
            raise argparse.ArgumentTypeError(f"must be from {least:g} to {most:g} {unit}, not {quoted(text)}")
        return value

    return parsed


def whole_number(least: int, most: int) -> Callable[[str], int]:
    """A parser for an option that takes a whole number from `least` to `most`."""

    def parsed(text: str) -> int:
        if not (text.isdecimal() and text.isascii() and len(text) < 10 and least <= int(text) <= most):
            raise argparse.ArgumentTypeError(f"must be a whole number from {least} to {most}, not {quoted(text)}")
        return int(text)

    return parsed


def _setting(text: str) -> tuple[str, str]:
    name, equals, value = text.partition("=")
    if not (equals and name):
        raise argparse.ArgumentTypeError(f"must be name=value, not {quoted(text)}")
    return name, value


def add_json(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("--json", action="store_true", help="print JSON")


def add_scene(parser: argparse.ArgumentParser, **more: Any) -> None:
    """Add the options for a scene and its settings."""
    parser.add_argument("scene", metavar="SCENE", help="the scene's name (thumbwise scenes lists them)", **more)
    add_settings(parser)


def add_settings(parser: argparse.ArgumentParser) -> None:
    """Add the option for the settings of a scene."""
    parser.add_argument(
        "--set", type=_setting, action="append", default=[], metavar="name=value", help="set a control (listed there too); may be repeated"
    )


def scene_set_up(wanted: argparse.Namespace) -> Scene:
    """The scene asked for, with the settings asked for, at its start."""
    with reported(ValueError):
        scene = catalogue.scene_class(wanted.scene)()
        scene.set_all(dict(wanted.set))
    scene.restart()
    return scene


def print_json(value: object) -> None:
    print(json.dumps(value, indent=2, ensure_ascii=False, allow_nan=False))


@contextlib.contextmanager
def writing(file: Path) -> Iterator[BinaryIO]:
    """A file that the user named, to be written all or nothing. Whether it can be is found out at once."""
    try:
        with replacing(Path(os.path.realpath(file))) as unfinished:
            yield unfinished
    except OSError as wrong:
        raise UsageError(f"{file} cannot be written: {(wrong.strerror or str(wrong)).lower()}.") from None


def write(file: Path, text: str) -> None:
    """Write a file that the user named, all or nothing."""
    with writing(file) as unfinished:
        unfinished.write(text.encode())


def write_new(file: Path, text: str) -> None:
    """Write a file that the user named and that must not be there yet."""
    if os.path.lexists(file):
        raise UsageError(f"{file} already exists and is left as it is; give --write another file.")
    write(file, text)


@contextlib.contextmanager
def readable(file: str, what: str) -> Iterator[None]:
    """Report why a file that the user named cannot be read as text; `what` such a file is."""
    try:
        yield
    except UnicodeDecodeError:
        raise UsageError(f"{file} is not UTF-8 text, as {what} must be.") from None
    except OSError as wrong:
        raise UsageError(f"{file} cannot be read: {wrong.strerror}.") from None


def read_text(file: str, what: str, most: int) -> str:
    """The text, at most so many characters of it, of a file that the user named."""
    with readable(file, what), open(file, encoding="utf-8-sig") as opened:
        return opened.read(most)
