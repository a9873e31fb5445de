"""What every file of ours in TOML shares when it is read: its limits, and errors with the file's name and the line."""

from __future__ import annotations

import re
import tomllib
from collections.abc import Iterator, Mapping, Sequence
from contextlib import contextmanager
from functools import cached_property
from typing import Any, ClassVar

from physics.arguments import quoted
from scenes import catalogue
from scenes.lesson.toml_lines import TomlLines
from scenes.names import did_you_mean
from scenes.scene.scene import Scene

LONGEST = 1_000_000  # characters of a file
LONGEST_LINE = 10_000  # characters: a key with many thousand dots takes tomllib minutes
IN_PLAIN_WORDS = {  # tomllib's messages, where they leave the reader guessing
    "Invalid value": "this value cannot be read; put text in quotes",
    "Illegal character '\\n'": "a quote must be closed on the line where it opens",
    "Invalid statement": "a line is name = value, or [[{}]]",
    "Cannot mutate immutable namespace": "something of that name exists already, and nothing can be added to it",
    "Exceeds the limit": "a number has thousands of digits",
}

Kinds = Mapping[str, tuple[type | tuple[type, ...], str]]  # by key: what it may be, and that in words


class TomlError(ValueError):
    """What is wrong with a file, in one sentence with its name and the line; `sentence` is the same without them."""

    def __init__(self, where: str, sentence: str):
        super().__init__(f"{where}: {sentence}")
        self.sentence = sentence[:1].upper() + sentence[1:]

    @classmethod
    def of(cls, errors: Sequence[TomlError]) -> TomlError:
        """Several as one, a line for each."""
        first, *others = map(str, errors)
        where, sentence = first.split(": ", 1)
        return cls(where, "\n".join((sentence, *others)))


class TomlReader:
    """The data of a file, and errors in it where they stand. A kind of file sets `what` it is called, what its `part` is called,
    and the `failure` that is raised."""

    what: ClassVar[str]
    part: ClassVar[str]
    failure: ClassVar[type[TomlError]]

    def __init__(self, text: str, name: str):
        self.name = name
        self._source = text
        self.data = self._parsed(text)
        self.scenes: dict[str, Scene] = {}

    @cached_property
    def lines(self) -> TomlLines:
        return TomlLines(self._source)

    def _parsed(self, text: str) -> dict[str, Any]:
        if len(text) > LONGEST:
            raise self._at(1, f"a {self.what} has at most {LONGEST} characters")
        for number, line in enumerate(text.split("\n"), 1):
            if len(line) > LONGEST_LINE:
                raise self._at(number, f"a line has at most {LONGEST_LINE} characters, this one {len(line)}")
        try:
            return tomllib.loads(text)
        except (ValueError, RecursionError) as wrong:
            raise self._no_toml(text, wrong) from None

    def _no_toml(self, text: str, wrong: Exception) -> TomlError:
        """The error for text that is not TOML."""
        if isinstance(wrong, RecursionError):
            return self._at(1, "brackets are nested too deeply")
        said, line = str(wrong), re.search(r"\(at line (\d+), column \d+\)$", str(wrong))
        what = re.sub(r" \(at .*\)$", "", said)
        what = next((plain for begins, plain in IN_PLAIN_WORDS.items() if what.startswith(begins)), what[0].lower() + what[1:])
        return self._at(int(line[1]) if line else text.rstrip().count("\n") + 1, what.replace("{}", self.part))

    def _at(self, line: int, sentence: str) -> TomlError:
        return self.failure(f"{self.name}, line {line}", f"{sentence}{'' if sentence[-1] in '.?' else '.'}")

    def error(self, what: object, *path: str | int) -> TomlError:
        """The error `what`, with the file's name and the line of `path`."""
        return self._at(self.lines.of(*path), str(what))

    def check_kinds(self, given: Mapping[str, Any], kinds: Kinds, whose: str, *path: str | int) -> None:
        """Refuse keys that `whose` table at `path` does not have, and values of the wrong kind."""
        for key, value in given.items():
            if key not in kinds:
                raise self.error(f"{whose} has no {quoted(key)}; {did_you_mean(key, kinds, 'it has')}", *path, key)
            kind, words = kinds[key]
            if not isinstance(value, kind) or (isinstance(value, bool) and bool not in (kind if isinstance(kind, tuple) else (kind,))):
                raise self.error(f"{key} takes {words}, not {quoted(value)}", *path, key)

    def scene(self, name: str, *path: str | int) -> Scene:
        """The scene of that name, made once to try things out on."""
        with self.at(*path):
            self.scenes[name] = self.scenes.get(name) or catalogue.scene_class(name)()
        return self.scenes[name]

    def check_settings(self, scene: Scene, settings: Mapping[str, Any], *path: str | int) -> None:
        for name, value in settings.items():
            if name not in scene.by_name:
                what = f"{scene.name} has no setting {quoted(name)}; {did_you_mean(name, scene.by_name, 'it has')}"
                raise self.error(what, *path, name)
            with self.at(*path, name):
                scene.by_name[name].checked(value)

    @contextmanager
    def at(self, *path: str | int) -> Iterator[None]:
        """Within this a `ValueError` is raised as the error at `path`."""
        try:
            yield
        except TomlError:
            raise
        except ValueError as wrong:
            raise self.error(wrong, *path) from None
