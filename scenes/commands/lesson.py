"""`thumbwise lesson [FILE]`: the bench, stepped through a lesson, the built-in one or your own."""

from __future__ import annotations

import argparse
from pathlib import Path

from scenes.commands.command_line import Parser, read_text, reported, write_new
from scenes.commands.serving import add_serving, add_sharing, serve
from scenes.lesson import lesson
from scenes.lesson.toml_reader import LONGEST

SUMMARY = "open the bench with a lesson, the built-in one or your own: N and P step through it"
WHERE = "The lesson is at {0} and the speaker's window at {0}speaker/ (N and P step through it, Ctrl+C ends it)."


def add_options(parser: Parser) -> None:
    parser.add_argument("file", metavar="FILE", nargs="?", help="your own lesson (TOML); without it, the built-in one")
    parser.add_argument("--write", metavar="FILE", type=Path, help="write the built-in lesson to this file for editing, and open nothing")
    parser.add_argument("--notes", action="store_true", help="print the steps with the speaker's notes, and open nothing")
    add_serving(parser)
    add_sharing(parser)


def run(wanted: argparse.Namespace) -> None:
    if wanted.write is not None:
        _write(wanted.write)
        return
    taught = read_lesson(wanted.file)
    if wanted.notes:
        print(as_text(taught))
        return
    from scenes.lesson.lesson_bench import ENDPOINT, LessonBench

    serve(wanted, lambda host: LessonBench(host, taught), WHERE, ENDPOINT)


def as_text(taught: lesson.Lesson) -> str:
    """The steps with captions and notes, to print."""
    lines = [taught.title, ""]
    for number, step in enumerate(taught.steps, 1):
        asked = " (asks)" if step.question else ""
        notes = [f"   {line}".rstrip() for line in step.notes.strip().splitlines()]
        lines += [f"{number}. {step.scene}{asked}: {step.caption}", *notes, ""]
    return "\n".join(lines)


def read_lesson(file: str | None) -> lesson.Lesson:
    with reported(lesson.LessonError):
        if file is None:
            return lesson.read(lesson.built_in(), "the built-in lesson")
        return lesson.read(read_text(file, "a lesson", LONGEST + 1), file)


def _write(file: Path) -> None:
    write_new(file, lesson.built_in())
    print(f"The built-in lesson is now in {file}; open it with: thumbwise lesson {file}")
