"""The text of a lesson's file in pieces, so that a change to one step leaves all the others as they were written, comments included."""

from __future__ import annotations

import tomllib
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace
from itertools import count

from scenes.lesson.toml_lines import names_in, statements
from scenes.lesson.toml_text import statement, step_text

_numbers = count(1)


@dataclass(frozen=True)
class Part:
    """One step: the blank lines and comments before it, and its own lines; `number` is its own wherever it is moved, and `given` what
    its lines say."""

    number: int
    lead: str
    body: str
    given: Mapping[str, object]

    @classmethod
    def new(cls, given: Mapping[str, object]) -> Part:
        return cls(next(_numbers), "\n", step_text(given), given)

    def saying(self, given: Mapping[str, object]) -> Part:
        """The same step with other content; comments between its lines now stand before it."""
        return replace(self, lead=self.lead + _comments_within(self.body), body=step_text(given), given=given)


@dataclass(frozen=True)
class Document:
    """A lesson's text: `head`, the steps, and what comes after the last one."""

    head: str
    parts: tuple[Part, ...]
    tail: str = ""

    @classmethod
    def of(cls, text: str) -> Document:
        """The pieces of a lesson's text, which must be valid. Where steps are written otherwise than each below its [[step]], all of
        it is written anew and comments are lost."""
        data = tomllib.loads(text)
        cut = _cut(text)
        if len(cut.parts) == len(data["step"]) and all(part.given == given for part, given in zip(cut.parts, data["step"], strict=True)):
            return cut
        head = "".join(f"{statement(key, value)}\n" for key, value in data.items() if key != "step")
        return cls(head, tuple(map(Part.new, data["step"])))

    @property
    def text(self) -> str:
        return self.head + "".join(part.lead + part.body for part in self.parts) + self.tail

    def numbered_as(self, before: Document) -> Document:
        """With the numbers that steps of the same content had before."""
        numbers: dict[str, list[int]] = {}
        for part in before.parts:
            numbers.setdefault(part.body, []).append(part.number)
        return replace(
            self, parts=tuple(replace(part, number=numbers[part.body].pop(0)) if numbers.get(part.body) else part for part in self.parts)
        )

    def place(self, number: float) -> int:
        """The place of the step with that number; `ValueError` if it is gone."""
        for place, part in enumerate(self.parts):
            if part.number == number:
                return place
        raise ValueError("That step is not in the lesson any more.")

    def inserted(self, place: int, part: Part) -> Document:
        return self._with((*self.parts[:place], part, *self.parts[place:]))

    def without(self, place: int) -> Document:
        return self._with((*self.parts[:place], *self.parts[place + 1 :]))

    def changed(self, place: int, given: Mapping[str, object]) -> Document:
        return self._with((*self.parts[:place], self.parts[place].saying(given), *self.parts[place + 1 :]))

    def headed(self, key: str, value: object) -> Document:
        """With another value of one of the lesson's own keys."""
        lines = self.head.split("\n")
        stands = {names_in(head): (first - 1, last) for first, last, head in statements(self.head)}
        usual = stands[("version",)][1] if ("version",) in stands else min((first for first, _ in stands.values()), default=len(lines) - 1)
        begin, end = stands.get((key,), (usual, usual))
        return replace(self, head="\n".join([*lines[:begin], statement(key, value), *lines[end:]]))

    def _with(self, parts: Iterable[Part]) -> Document:
        """With these steps, a blank line between any two."""
        first, *others = parts or ()
        return replace(
            self,
            parts=(
                replace(first, lead=first.lead.lstrip("\n") if self.head.endswith("\n\n") else first.lead),
                *(part if part.lead.startswith("\n") else replace(part, lead=f"\n{part.lead}") for part in others),
            ),
        )


def _cut(text: str) -> Document:
    """The text cut before each [[step]]: the comments before it go with it, but for those above the first one's last blank line."""
    lines = [f"{line}\n" for line in text.rstrip("\n").split("\n")]
    begins: list[tuple[int, int]] = []  # of every step: where the piece before it ended, and where it begins
    end = 0
    for first, last, head in statements(text):
        if head.startswith("[[") and names_in(head) == ("step",):
            begins.append((end, first - 1))
        end = last
    if not begins:
        return Document(text, ())
    (after, first_step), *_ = begins
    blank = max((place + 1 for place in range(after, first_step) if not lines[place].strip()), default=after)
    begins[0] = (blank, first_step)
    ends = [*(before for before, _ in begins[1:]), end]
    parts = []
    for (before, begin), after in zip(begins, ends, strict=True):
        body = "".join(lines[begin:after])
        parts.append(Part(next(_numbers), "".join(lines[before:begin]), body, tomllib.loads(body)["step"][0]))
    return Document("".join(lines[:blank]), tuple(parts), "".join(lines[end:]))


def _comments_within(body: str) -> str:
    """The lines between a step's own that are nothing but a comment."""
    lines, end, found = body.split("\n"), 0, []
    for first, last, _ in statements(body):
        found += [f"{line}\n" for line in lines[end : first - 1] if line.strip()]
        end = last
    return "".join(found)
