"""`thumbwise votes FILE --csv FILE.csv`: the votes of a class, for a spreadsheet."""

from __future__ import annotations

import argparse
import sys
from pathlib import Path

from scenes.bench.votes import Votes, as_csv
from scenes.commands.command_line import Parser, UsageError, reported, write
from scenes.kept.lines import NotKept

SUMMARY = "write the votes of a class, kept with --share --votes FILE, as CSV"


def add_options(parser: Parser) -> None:
    parser.add_argument("file", metavar="FILE", type=Path, help="the file that they were kept in")
    parser.add_argument("--csv", metavar="FILE.csv", type=Path, required=True, help="the file to write")


def run(wanted: argparse.Namespace) -> None:
    votes = Votes(wanted.file)
    if not votes.exists:
        raise UsageError(f"There are no votes in {wanted.file}.")
    if votes.is_at(wanted.csv):
        raise UsageError(f"{wanted.csv} holds the votes themselves; give --csv another file.")
    with reported(NotKept):
        votes.read()
    for sentence in votes.sentences():
        print(f"thumbwise: {sentence}", file=sys.stderr)
    write(wanted.csv, as_csv(votes.entries))
    print(f"{len(votes.entries)} {'vote' if len(votes.entries) == 1 else 'votes'} written to {wanted.csv}, a row for each answer.")
