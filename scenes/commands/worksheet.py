"""`thumbwise worksheet`: a page of exercises to print, with its key."""

from __future__ import annotations

import os
import random
from pathlib import Path

from scenes.commands.command_line import Parser, Said, whole_number
from scenes.practice.shared_files import replace
from scenes.worksheet import page as worksheet_page
from scenes.worksheet.worksheet import LARGEST_SEED, MOST_QUESTIONS, sheet

SUMMARY = "exercises to print, with drawings and a key"
USUAL_QUESTIONS = 12


def run(arguments: list[str]) -> None:
    wanted = _parser().parse_args(arguments)
    out = Path(wanted.out)
    key = None if wanted.key is None else Path(wanted.key)
    if key is not None and os.path.realpath(key) == os.path.realpath(out):
        raise Said("--key needs a different file from --out.")
    seed = wanted.seed or random.Random().randint(1, LARGEST_SEED)
    made = sheet(wanted.questions, seed)
    if key is None:
        _write(out, worksheet_page.whole_page(made, wanted.paper, wanted.title))
        where = f"{out}, the key on its last pages"
    else:
        _write(out, worksheet_page.questions_page(made, wanted.paper, wanted.title))
        _write(key, worksheet_page.key_page(made, wanted.paper, wanted.title))
        where = f"{out}, the key in {key}"
    print(
        "1 question" if wanted.questions == 1 else f"{wanted.questions} questions",
        f"(--seed {seed} makes the same sheet again) in {where}.",
    )


def _write(file: Path, text: str) -> None:
    try:
        replace(Path(os.path.realpath(file)), text)
    except OSError as wrong:
        raise Said(f"{file} cannot be written: {(wrong.strerror or str(wrong)).lower()}.") from None


def _parser() -> Parser:
    parser = Parser("thumbwise worksheet", description="Exercises to print from a browser, with drawings and a key.")
    parser.add_argument("--out", metavar="FILE", required=True, help="the HTML file to write")
    parser.add_argument(
        "--questions",
        type=whole_number(1, MOST_QUESTIONS),
        default=USUAL_QUESTIONS,
        metavar="N",
        help=f"how many (default {USUAL_QUESTIONS})",
    )
    parser.add_argument("--seed", type=whole_number(1, LARGEST_SEED), metavar="N", help="the number of the sheet, to make it again")
    parser.add_argument("--key", metavar="FILE", help="write the key to this file, instead of on the last pages of the sheet")
    parser.add_argument("--paper", choices=list(worksheet_page.PAPERS), default="a4", help="paper size (default a4)")
    parser.add_argument("--title", default=worksheet_page.TITLE, metavar="TEXT", help="the heading")
    return parser
