"""`thumbwise practice [TOPIC]`: questions for one student, on the page or in the terminal, keeping the answers."""

from __future__ import annotations

import argparse
import random
import sys
from datetime import date
from pathlib import Path

from scenes import catalogue
from scenes.commands.command_line import Parser, UsageError, reported, whole_number, write
from scenes.commands.serving import Served, add_serving, serve
from scenes.kept.lines import NotKept
from scenes.kept.writer import Writer
from scenes.practice import practice_text
from scenes.practice.mock import MOST_MINUTES, MOST_QUESTIONS
from scenes.practice.practice import Practice, title_and_kind
from scenes.practice.progress import in_words, progress
from scenes.practice.results import Results, as_csv, usual_place
from scenes.practice.topics import scenes_of

SUMMARY = "put questions to one student, one after another: wrong answers come back, all answers are kept"
A_ROUND = 10  # in the terminal
LARGEST_SEED = 999_999
WHERE = "Practice is at {0}, progress at {0}progress/ (Ctrl+C ends it)."


def add_options(parser: Parser) -> None:
    parser.add_argument(
        "topic", metavar="TOPIC", nargs="?",
        help=f"a scene ({', '.join(catalogue.NAMES)}), or words from titles and principles, such as push, left-hand",
    )  # fmt: skip
    parser.add_argument("--text", action="store_true", help="in the terminal, without a browser")
    parser.add_argument(
        "--questions",
        type=whole_number(1, MOST_QUESTIONS),
        metavar="N",
        help=f"questions in a round in the terminal (default {A_ROUND})",
    )
    parser.add_argument(
        "--mock",
        type=whole_number(1, MOST_MINUTES),
        metavar="MINUTES",
        help="with --text: as a test of so many minutes, which tells what was right at its end",
    )
    parser.add_argument(
        "--seed",
        type=whole_number(1, LARGEST_SEED),
        metavar="N",
        help="the random seed for new questions",
    )
    parser.add_argument(
        "--results",
        metavar="FILE",
        type=Path,
        help=f"keep the answers in this file (default {usual_place() or 'nowhere'})".replace("%", "%%"),
    )
    parser.add_argument("--export", metavar="FILE", type=Path, help="export the answers kept so far as CSV, and ask nothing")
    parser.add_argument("--progress", action="store_true", help="tell what is known by now, by week, topic and mistake, and ask nothing")
    add_serving(parser)
    parser.add_argument("--share", action="store_true", help="let others on your network practise too, each with questions of their own")


def run(wanted: argparse.Namespace) -> None:
    with reported(ValueError):
        scenes = scenes_of(wanted.topic)
    if wanted.questions and not wanted.text:
        raise UsageError("--questions goes with --text: on the page practice goes on until the student stops.")
    if wanted.mock and not wanted.text:
        raise UsageError("--mock goes with --text: on the page a mock test is begun with its button.")
    if wanted.share and wanted.text:
        raise UsageError("--share goes with the page, not with --text.")
    results = Results(wanted.results or usual_place())
    with reported(NotKept):
        if wanted.progress:
            results.read()
            print("\n".join(in_words(progress(results.answers, date.today()))))
        elif wanted.export is not None:
            _export(results, scenes if wanted.topic else None, wanted.export)
        else:
            _practise(wanted, results, scenes)


def _practise(wanted: argparse.Namespace, results: Results, scenes: tuple[str, ...]) -> None:
    _open(results, wanted.results is not None)
    dice = random.Random(wanted.seed)
    if wanted.text:
        practice_text.hold(Practice(results, scenes, dice, in_text=True), wanted.questions or A_ROUND, wanted.mock)
        return
    from scenes.marked.papers import Papers
    from scenes.practice import practice_bench, room

    practice = Practice(results, scenes, dice)

    def made(host) -> Served:
        return room.PracticeRoom(Papers(host), practice, writer) if wanted.share else practice_bench.PracticeBench(host, practice, writer)

    with Writer(results) as writer:
        serve(wanted, made, WHERE, room.ENDPOINT if wanted.share else practice_bench.ENDPOINT)


def _open(results: Results, asked_for: bool) -> None:
    """Read the results and say where they are kept. A file that was asked for must be writable; without the usual one
    practice goes on, and keeps nothing."""
    try:
        results.open()
    except NotKept as wrong:
        if asked_for:
            raise
        results.forget()
        print(f"thumbwise: {wrong} Practice goes on without keeping them.", file=sys.stderr)
        return
    for sentence in results.sentences():
        print(f"thumbwise: {sentence}", file=sys.stderr)
    print(f"Answers are kept in {results.path}.")


def _export(results: Results, scenes: tuple[str, ...] | None, file: Path) -> None:
    results.read()
    for sentence in results.sentences():
        print(f"thumbwise: {sentence}", file=sys.stderr)
    if results.is_at(file):
        raise UsageError(f"{file} holds the results themselves; give --export another file.")
    answers = [answer for answer in results.answers if scenes is None or answer.scene in scenes]
    write(file, as_csv(answers, title_and_kind))
    print(f"{len(answers)} {'answer' if len(answers) == 1 else 'answers'} written to {file}.")
