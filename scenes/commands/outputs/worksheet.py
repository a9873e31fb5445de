"""`thumbwise worksheet`: a page of exercises to print, with its key."""

from __future__ import annotations

import argparse
import os
import random
from pathlib import Path

from scenes.commands.command_line import Parser, UsageError, reported, whole_number, write
from scenes.commands.outputs.key import add_key, key_file
from scenes.worksheet import page as worksheet_page
from scenes.worksheet.worksheet import LARGEST_SEED, LEVELS, MOST_QUESTIONS, VERSIONS, kinds_of, versions
from visual.paper.pages import PAPERS

SUMMARY = "write a page of exercises to print, with drawings and a key"
USUAL_QUESTIONS = 12


def add_options(parser: Parser) -> None:
    parser.add_argument("--out", metavar="FILE", type=Path, required=True, help="the HTML file to write")
    parser.add_argument(
        "--questions",
        type=whole_number(1, MOST_QUESTIONS),
        default=USUAL_QUESTIONS,
        metavar="N",
        help=f"how many (default {USUAL_QUESTIONS})",
    )
    parser.add_argument(
        "--topics",
        nargs="+",
        default=(),
        metavar="TOPIC",
        help='scenes, or words from their titles, such as braking "left hand" (default all)',
    )
    parser.add_argument(
        "--level",
        nargs="+",
        type=int,
        choices=LEVELS,
        default=LEVELS,
        help="1 directions, names and plain substitution; 2 two steps; 3 reasoning (default all)",
    )
    parser.add_argument(
        "--versions",
        nargs="+",
        choices=list(VERSIONS),
        default=[""],
        metavar="LETTER",
        help="A B ...: sheets with the same kinds of question and other figures, for neighbours, each in a file of its own",
    )
    parser.add_argument("--seed", type=whole_number(1, LARGEST_SEED), metavar="N", help="the number of the sheet, to make it again")
    add_key(parser, "the key")
    parser.add_argument("--paper", choices=list(PAPERS), default="a4", help="paper size (default a4)")
    parser.add_argument("--title", default=worksheet_page.TITLE, metavar="TEXT", help="the heading")


def run(wanted: argparse.Namespace) -> None:
    out, key = wanted.out, key_file(wanted)
    seed = wanted.seed or random.Random().randint(1, LARGEST_SEED)
    with reported(ValueError):
        made = versions(wanted.questions, seed, wanted.versions, wanted.topics, wanted.level)
    # a file for each version, so that none is printed on the back of another
    files = [out.with_stem(f"{out.stem}-{sheet.version}") if len(made) > 1 else out for sheet in made]
    if key is not None and os.path.realpath(key) in map(os.path.realpath, files):
        raise UsageError(f"{key} holds one of the versions; give --key another file.")
    for sheet, file in zip(made, files, strict=True):
        page = worksheet_page.whole_page if key is None else worksheet_page.questions_page
        write(file, page([sheet], wanted.paper, wanted.title))
    pages = "on its last pages" if len(files) == 1 else "on their last pages"
    where = f"{' and '.join(map(str, files))}, the key {pages if key is None else f'in {key}'}"
    if key is not None:
        write(key, worksheet_page.key_page(made, wanted.paper, wanted.title))
    print(
        "1 question" if wanted.questions == 1 else f"{wanted.questions} questions",
        *(["in versions", " and ".join(each.version for each in made)] if len(made) > 1 else []),
        f"(--seed {seed} makes the same sheet again) in {where}.",
    )
    kinds = len(kinds_of(wanted.topics, wanted.level))
    if wanted.questions > kinds:
        print(f"There {'is 1 kind' if kinds == 1 else f'are {kinds} kinds'} of question on this, so some come again, with other figures.")
