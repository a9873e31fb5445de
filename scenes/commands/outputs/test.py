"""`thumbwise test [TOPIC ...] --results FILE`: a marked test, its report, and the end of both."""

from __future__ import annotations

import argparse
import random
import sys
import time
from dataclasses import replace
from pathlib import Path

from scenes import catalogue
from scenes.commands.command_line import Parser, UsageError, number_within, reported, whole_number, write
from scenes.commands.serving import add_serving, serve
from scenes.kept.lines import NotKept, at
from scenes.kept.writer import Writer
from scenes.marked.questions import version_of
from scenes.marked.record import MOST_MINUTES, MOST_QUESTIONS, Record, Terms
from scenes.marked.report import marks_table, report_page
from scenes.marked.sittings import sittings_of
from scenes.practice.topics import scenes_of

SUMMARY = "hold a marked test, each trainee with other figures; write its report; delete it"
USUAL_QUESTIONS = 10
LARGEST_SEED = 999_999
WHERE = "Who has begun and ended stands at {0} ; on this machine the test is taken at {0}sit/ (Ctrl+C ends the program; no answer is lost)."
OTHERS = (
    "was begun with a version of Thumbwise that puts other questions than this one; every answer in it is kept. Go on with it in that "
    "version, or write the marks that there are with --report, and begin a test in another file."
)
OF_THE_TEST = ("topic", "questions", "minutes", "seed")
OF_THE_REPORT = ("report", "csv", "delete")


def add_options(parser: Parser) -> None:
    parser.add_argument(
        "topic", metavar="TOPIC", nargs="*", help="scenes or words from their titles and principles; without any, every scene"
    )
    parser.add_argument("--results", metavar="FILE", type=Path, required=True, help="the test's file; one that exists is gone on with")
    parser.add_argument(
        "--questions", type=whole_number(1, MOST_QUESTIONS), metavar="N", help=f"questions to each trainee (default {USUAL_QUESTIONS})"
    )
    parser.add_argument(
        "--minutes", type=number_within(1, MOST_MINUTES, "minutes"), metavar="M", help="the time for all of them (default: no limit)"
    )
    parser.add_argument("--seed", type=whole_number(1, LARGEST_SEED), metavar="N", help="the random seed for the questions")
    parser.add_argument(
        "--report", metavar="FILE.html", type=Path, help="write the marks and the commonest mistakes as a page; hold no test"
    )
    parser.add_argument("--csv", metavar="FILE.csv", type=Path, help="write the marks as CSV; hold no test")
    parser.add_argument("--delete", action="store_true", help="delete the test's file, with every name and answer; hold no test")
    add_serving(parser)
    parser.add_argument("--share", action="store_true", help="let trainees come in from their own devices on your network")


def run(wanted: argparse.Namespace) -> None:
    afterwards = [name for name in OF_THE_REPORT if getattr(wanted, name)]
    given = [name for name in OF_THE_TEST if getattr(wanted, name)]
    if afterwards and given:
        raise UsageError(f"--{afterwards[0]} goes with --results alone: the file says what the test was.")
    if wanted.delete and len(afterwards) > 1:
        raise UsageError("--delete goes with --results alone: write the report first.")
    record = Record(wanted.results)
    with reported(NotKept):
        if wanted.delete:
            _delete(record)
        elif afterwards:
            _report(record, wanted)
        else:
            _hold(record, wanted, given)


def _hold(record: Record, wanted: argparse.Namespace, given: list[str]) -> None:
    if record.exists:
        if given:
            raise UsageError(f"{wanted.results} holds a test already: to go on with it, give --results alone; for another, another file.")
        terms = record.read_test()
        if terms.drawn not in (None, version_of(terms)):
            raise NotKept(f"{wanted.results} {OTHERS}")
    else:
        new = _terms(wanted)
        terms = replace(new, drawn=version_of(new))
        record.add(terms)
    record.open()
    record.keep()
    _tell(record)
    print(f"Topics: {', '.join(terms.scenes)}.")
    from scenes.marked.papers import Papers
    from scenes.marked.room import DESK_FIRST, ENDPOINT, Room

    def room(host) -> Room:
        made = Room(Papers(host), record, terms, writer)
        if not wanted.share:
            made.opened()
        return made

    print(f"Names and answers are kept in {record.path}, which only you can read, until you give --delete.")
    with Writer(record) as writer:
        serve(wanted, room, WHERE, ENDPOINT, "" if wanted.share else DESK_FIRST)
    print(f"The marks: thumbwise test --results {wanted.results} --report FILE.html")


def _terms(wanted: argparse.Namespace) -> Terms:
    """What was asked for, as a new test."""
    from visual.host.access.doors import new_key, new_word

    with reported(ValueError):
        named = {name for topic in wanted.topic or [None] for name in scenes_of(topic)}
    scenes = [name for name in catalogue.NAMES if name in named]
    seed = wanted.seed or random.Random().randint(1, LARGEST_SEED)
    return Terms(at(time.time()), scenes, wanted.questions or USUAL_QUESTIONS, wanted.minutes, seed, new_word(), new_key().hex())


def _report(record: Record, wanted: argparse.Namespace) -> None:
    terms = _there(record).read_test()
    _tell(record)
    sittings = list(sittings_of(terms, record.entries).values())
    for file, text in (
        (wanted.report, lambda: report_page(terms, sittings, str(record.path))),
        (wanted.csv, lambda: marks_table(terms, sittings)),
    ):
        if file is not None:
            if record.is_at(file):
                raise UsageError(f"{file} holds the test itself; give the report another file.")
            write(file, text())
            print(f"The marks of {len(sittings)} trainee{'s' * (len(sittings) != 1)} are in {file}.")


def _tell(record: Record) -> None:
    for sentence in record.sentences():
        print(f"thumbwise: {sentence}", file=sys.stderr)


def _delete(record: Record) -> None:
    _there(record).read_test()
    record.delete()
    print(f"{record.path} is deleted, with every name and answer in it. Reports and tables written from it are not.")


def _there(record: Record) -> Record:
    if not record.exists:
        raise UsageError(f"There is no file {record.path}.")
    return record
