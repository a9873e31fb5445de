"""`thumbwise handout`: a lesson as illustrated notes to print."""

from __future__ import annotations

import argparse
import asyncio
import sys
from contextlib import nullcontext
from pathlib import Path

from scenes.commands.command_line import Parser, writing
from scenes.commands.lesson import read_lesson
from scenes.commands.outputs.key import add_key, key_file
from scenes.commands.outputs.picture import add_browser, installed_browser
from scenes.commands.outputs.progress import progress
from visual.paper.pages import PAPERS

SUMMARY = "write a lesson as illustrated notes to print: pictures, formulas with their numbers, questions with room to write"
WITHOUT = "the pictures are left out; install Chromium, Chrome or Edge, or give its path with --browser."


def add_options(parser: Parser) -> None:
    parser.add_argument("lesson", metavar="LESSON", nargs="?", help="your own lesson (TOML); without it, the built-in lesson")
    parser.add_argument("--out", metavar="FILE", type=Path, required=True, help="the HTML file to write")
    parser.add_argument("--paper", choices=list(PAPERS), default="a4", help="paper size (default a4)")
    parser.add_argument("--notes", action="store_true", help="with the speaker's notes, for whoever gives the lesson")
    add_key(parser, "the answers")
    add_browser(parser)


def run(wanted: argparse.Namespace) -> None:
    key = key_file(wanted)
    browser = installed_browser(wanted.browser)
    taught = read_lesson(wanted.lesson)
    if browser is None:
        _tell(f"No browser was found, so {WITHOUT}")
    from scenes.handout.handout import printed_steps
    from scenes.handout.page import answers_page, handout_page

    count = len(taught.steps)
    with writing(wanted.out) as out, nullcontext() if key is None else writing(key) as answers:  # before anything is drawn
        steps = asyncio.run(printed_steps(taught, browser, progress("step", count), lambda why: _tell(f"{why} From here on {WITHOUT}")))
        page = handout_page(taught.title, steps, wanted.paper, wanted.notes, answers is None).encode()
        out.write(page)
        if answers is not None:
            answers.write(answers_page(taught.title, steps, wanted.paper).encode())
    where = "the answers on its last pages" if key is None else f"the answers in {key}"
    print(f"{count} step{'s' * (count != 1)} in {wanted.out}, {len(page) / 1e6:.1f} MB, {where}; print it from a browser.")


def _tell(sentence: str) -> None:
    print(f"thumbwise: {sentence}", file=sys.stderr, flush=True)
