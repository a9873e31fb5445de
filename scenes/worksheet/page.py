"""A worksheet as a page to print: self-contained HTML in black and grey, for A4 or Letter.

The page is also well-formed XML, so other tools can read it.
"""

from __future__ import annotations

import re
from html import escape

from scenes.worksheet.exercise import Exercise
from scenes.worksheet.worksheet import Sheet

PAPERS = {"a4": "A4", "letter": "letter"}
TITLE = "Which way, and how fast?"

STYLE = """
* { box-sizing: border-box; margin: 0; padding: 0; }
html { font: 11pt/1.35 "Liberation Sans", Arial, Helvetica, sans-serif; color: #000; background: #fff; }
body { max-width: 180mm; margin: 8mm auto; }
svg { display: block; max-width: 100%; font-family: inherit; }
h1 { font-size: 17pt; line-height: 1.2; }
.head { border-bottom: 0.6mm solid #000; padding-bottom: 3mm; margin-bottom: 2mm; }
.fields { display: flex; gap: 6mm; margin-top: 6mm; }
.fields span { flex: 1; border-bottom: 0.25mm solid #000; white-space: nowrap; }
.fields span:first-child { flex: 2.4; }
.fields .points { flex: 0.9; }
.agreed { font-size: 9.5pt; margin-bottom: 1mm; }
.agreed svg { display: inline-block; vertical-align: -1mm; }
.exercise { display: grid; grid-template-columns: 9mm 1fr auto; column-gap: 4mm; padding: 3.5mm 0;
  border-top: 0.2mm solid #000; break-inside: avoid; }
.agreed + .exercise, h1 + .exercise { border-top: 0; }
sub { font-size: 0.72em; line-height: 0; }
.exercise > b { font-size: 13pt; line-height: 1.2; }
.body > * + * { margin-top: 2mm; }
.drawing { align-self: start; }
.lines i { display: block; height: 8.5mm; border-bottom: 0.2mm solid #777; }
.choices { list-style: none; display: grid; grid-template-columns: 1fr 1fr; gap: 1.5mm 4mm; }
.choices li { padding-left: 6mm; text-indent: -6mm; }
.choices li::before { content: ""; display: inline-block; width: 3.4mm; height: 3.4mm; margin-right: 2.6mm;
  border: 0.3mm solid #000; vertical-align: -0.4mm; text-indent: 0; }
table { border-collapse: collapse; width: 100%; }
th, td { border: 0.2mm solid #000; padding: 1.2mm 1.5mm; text-align: center; height: 8mm; font-weight: 400; }
th { background: #e8e8e8; font-size: 9.5pt; }
.key { break-before: page; }
.key .exercise { padding: 2.5mm 0; font-size: 10pt; }
.key .exercise > b { font-size: 11pt; }
.key svg { width: 42mm; height: auto; }
.key .answer { font-weight: 700; }
.key td, .key th { height: auto; padding: 0.6mm 1mm; }
@media screen { .key { border-top: 1mm dashed #777; margin-top: 12mm; padding-top: 8mm; } }
@media screen and (max-width: 150mm) {
  body { padding: 0 4mm; }
  .exercise { grid-template-columns: 9mm 1fr; }
  .drawing { grid-column: 2; margin-top: 3mm; }
}
@media print { body { max-width: none; margin: 0; } }
"""


def _sign(inside: str) -> str:
    return (
        '<svg width="4.4mm" height="4.4mm" viewBox="0 0 10 10" aria-hidden="true">'
        f'<circle cx="5" cy="5" r="4.2" fill="none" stroke="#000"/>{inside}</svg>'
    )


DOT, CROSS = _sign('<circle cx="5" cy="5" r="1.3"/>'), _sign('<path d="M2 2l6 6M2 8l6-6" stroke="#000"/>')


def questions_page(sheet: Sheet, paper: str, title: str = TITLE) -> str:
    """The questions only."""
    return _page(sheet, paper, title, _questions(sheet, title))


def key_page(sheet: Sheet, paper: str, title: str = TITLE) -> str:
    """The answers only."""
    return _page(sheet, paper, f"{title} Key", _key(sheet, title))


def whole_page(sheet: Sheet, paper: str, title: str = TITLE) -> str:
    """The questions, then the answers on a new page."""
    return _page(sheet, paper, title, _questions(sheet, title) + _key(sheet, title))


def _page(sheet: Sheet, paper: str, title: str, body: str) -> str:
    foot = f'font: 8.5pt "Liberation Sans", Arial, sans-serif; content: "Sheet {sheet.seed}'
    return (
        '<!DOCTYPE html>\n<html lang="en" xmlns="http://www.w3.org/1999/xhtml">\n<head>\n<meta charset="utf-8"/>\n'
        '<meta name="viewport" content="width=device-width, initial-scale=1"/>\n'
        f"<title>{escape(title)}</title>\n<style>{STYLE}"
        f"@page {{ size: {PAPERS[paper]} portrait; margin: 14mm 15mm 17mm; "
        f'@bottom-right {{ {foot}, page " counter(page) " of " counter(pages); }} }}\n</style>\n</head>\n'
        f"<body>\n<main>\n{body}</main>\n</body>\n</html>\n"
    )


def _questions(sheet: Sheet, title: str) -> str:
    exercises = "".join(
        _section("question", number, kind, _asked(exercise), exercise.drawing) for number, (kind, exercise) in enumerate(sheet.exercises, 1)
    )
    return (
        f'<article class="questions">\n<header class="head"><h1>{_text(title)}</h1>\n<p class="fields">'
        '<span>Name </span><span>Date </span><span class="points">Mark </span></p></header>\n'
        f'<p class="agreed">{DOT} current toward you, {CROSS} current away from you. '
        "B field, I current, F force, v motion; conventional current, from + to −.</p>\n"
        f"{exercises}</article>\n"
    )


def _key(sheet: Sheet, title: str) -> str:
    exercises = "".join(
        _section("answer", number, kind, _answered(exercise), exercise.solution)
        for number, (kind, exercise) in enumerate(sheet.exercises, 1)
    )
    heading = f"<h1>Key: {_text(title)} <small>(sheet {sheet.seed})</small></h1>"
    return f'<article class="key">\n{heading}\n{exercises}</article>\n'


def _section(name: str, number: int, kind: str, body: str, drawing: str) -> str:
    drawn = f'<div class="drawing">{drawing}</div>' if drawing else ""
    return (
        f'<section class="exercise" data-kind="{kind}" id="{name}-{number}"><b>{number}</b>'
        f'<div class="body">{body}</div>{drawn}</section>\n'
    )


def _asked(exercise: Exercise) -> str:
    lines = f'<div class="lines">{"<i></i>" * exercise.lines}</div>' if exercise.lines else ""
    return f"<p>{_text(exercise.text)}</p>{_table(exercise.table)}{_choices(exercise.choices)}{lines}"


def _answered(exercise: Exercise) -> str:
    workings = "".join(f"<p>{_text(line)}</p>" for line in exercise.workings)
    return f'<p class="answer">{_text(exercise.answer)}</p>{_table(exercise.filled)}<div>{workings}</div>'


def _text(text: str) -> str:
    """Text as HTML, with what follows a _ as a subscript, as in n_s."""
    return re.sub(r"\b([A-Za-z])_([A-Za-z0-9]+)", r"\1<sub>\2</sub>", escape(text, quote=False))


def _choices(choices: tuple[str, ...]) -> str:
    if not choices:
        return ""
    return f'<ul class="choices">{"".join(f"<li>{_text(choice)}</li>" for choice in choices)}</ul>'


def _table(rows: tuple[tuple[str, ...], ...]) -> str:
    if not rows:
        return ""
    head, *others = rows
    body = "".join(f"<tr>{_cells('td', row)}</tr>" for row in others)
    return f"<table><thead><tr>{_cells('th', head)}</tr></thead><tbody>{body}</tbody></table>"


def _cells(tag: str, cells: tuple[str, ...]) -> str:
    return "".join(f"<{tag}>{_text(cell)}</{tag}>" for cell in cells)
