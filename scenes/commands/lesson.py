"""`thumbwise lesson [FILE]`: the bench, stepped through a lesson, the built-in one or your own, which can be made on the page."""

from __future__ import annotations

import argparse
import contextlib
import os
from collections.abc import Iterator
from pathlib import Path

from scenes.commands.command_line import Parser, UsageError, readable, reported, write, write_new
from scenes.commands.serving import add_serving, add_sharing, serve
from scenes.lesson import lesson
from scenes.lesson.pictures import Pictures
from scenes.lesson.steps import Lesson, Step
from scenes.lesson.toml_reader import LONGEST
from scenes.lesson.toml_text import statement, step_text
from scenes.scene.question import Question

SUMMARY = "open the bench with a lesson, the built-in one or your own: N and P step through it"
WHERE = "The lesson is at {0} and the speaker's window at {0}speaker/ (N and P step through it, Ctrl+C ends it)."


def add_options(parser: Parser) -> None:
    parser.add_argument("file", metavar="FILE", nargs="?", help="your own lesson (TOML); without it, the built-in one")
    parser.add_argument(
        "--prepare", action="store_true", help="open FILE to be made on the page; if it is not there, it is begun with a page for the title"
    )
    parser.add_argument("--write", metavar="FILE", type=Path, help="write the built-in lesson to this file for editing, and open nothing")
    parser.add_argument("--notes", action="store_true", help="print the steps with the speaker's notes, and open nothing")
    add_serving(parser)
    add_sharing(parser)


def run(wanted: argparse.Namespace) -> None:
    if wanted.write is not None:
        _write(wanted.write)
        return
    if wanted.prepare and wanted.file is None:
        raise UsageError("--prepare needs a FILE to keep the lesson in; thumbwise lesson --write FILE makes one of the built-in lesson.")
    if wanted.prepare and not os.path.lexists(wanted.file):
        write(Path(wanted.file), _begun(Path(wanted.file).stem))
    if wanted.notes:
        print(as_text(read_lesson(wanted.file)))
    elif wanted.file is None:
        _give(wanted)
    else:
        _give_own(wanted)


def _give(wanted: argparse.Namespace) -> None:
    taught = read_lesson(None)
    from scenes.lesson.lesson_bench import ENDPOINT, LessonBench

    serve(wanted, lambda host: LessonBench(host, taught), WHERE, ENDPOINT)


def _give_own(wanted: argparse.Namespace) -> None:
    """Give the lesson in a file, which may be changed meanwhile on the page or elsewhere."""
    from scenes.lesson.draft import Draft
    from scenes.lesson.lesson_file import LessonFile
    from scenes.lesson.prepare_bench import PrepareBench, endpoint

    with LessonFile(Path(wanted.file)) as file:
        with _told_of(wanted.file):
            draft = Draft(file.read(), wanted.file, file.pictures)
        serve(wanted, lambda host: PrepareBench(host, draft, file, wanted.prepare), WHERE, endpoint(file))
    if file.not_kept:
        raise UsageError(file.not_kept)


def _begun(title: str) -> str:
    """The text of a lesson that is only begun: a page for its title."""
    head = (statement("version", lesson.VERSION), statement("title", title[: lesson.LONGEST_TITLE]))
    return "\n".join((*head, "", step_text({"title": title[: lesson.LONGEST_TITLE]})))


def as_text(taught: Lesson) -> str:
    """The steps with captions and notes, to print."""
    lines = [taught.title, ""]
    for number, step in enumerate(taught.steps, 1):
        asked, planned = " (asks)" if step.question else "", f" ({step.minutes:g} min)" if step.minutes else ""
        below = "\n".join(
            filter(None, (*_on_the_page(step), *_own_question(step), "Notes:" if step.notes.strip() else "", step.notes.strip()))
        )
        words = step.heading if step.scene else step.title
        lines += [f"{number}. {step.scene or 'page'}{asked}{planned}: {words}", *(f"   {line}".rstrip() for line in below.splitlines()), ""]
    return "\n".join(lines)


def _on_the_page(step: Step) -> list[str]:
    picture = f"[{step.picture}] {step.shows}".strip() if step.picture else ""
    return [step.text.strip(), picture, "" if step.scene else step.caption]


def _own_question(step: Step) -> list[str]:
    if not isinstance(step.question, Question):
        return []
    choices = [f"  {'*' if value == step.question.answer else ' '} {words}" for value, words in step.question.choices]
    return [f"Question: {step.question.text}", *choices, step.question.reason.strip()]


def read_lesson(file: str | None) -> Lesson:
    if file is None:
        with reported(lesson.LessonError):
            return lesson.read(lesson.built_in(), "the built-in lesson")
    with _told_of(file), open(file, encoding="utf-8-sig") as opened:
        return lesson.read(opened.read(LONGEST + 1), file, Pictures(Path(file)))


@contextlib.contextmanager
def _told_of(file: str) -> Iterator[None]:
    """Report why a lesson cannot be read from that file."""
    with readable(file, "a lesson"), reported(lesson.LessonError):
        try:
            yield
        except FileNotFoundError as wrong:
            raise UsageError(f"{file} cannot be read: {wrong.strerror}; thumbwise lesson {file} --prepare begins a new one.") from None


def _write(file: Path) -> None:
    write_new(file, lesson.built_in())
    print(f"The built-in lesson is now in {file}; open it with: thumbwise lesson {file}")
