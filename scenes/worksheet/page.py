"""A worksheet as a page to print: self-contained HTML in black and grey, for A4 or Letter.

The page is also well-formed XML, so other tools can read it.
"""

from __future__ import annotations

import re
from collections.abc import Sequence
from html import escape

from scenes.worksheet.exercise import Exercise
from scenes.worksheet.paging import LINE, MARGINS, column_shares, lines_to_write
from scenes.worksheet.worksheet import Question, Sheet

PAPERS = {"a4": "A4", "letter": "letter"}
TITLE = "Which way, and how fast?"

STYLE = (
    f"""
.lines i {{ height: {LINE}mm; }}
"""
    + """
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
.lines i { display: block; border-bottom: 0.2mm solid #777; }
.choices { list-style: none; display: grid; grid-template-columns: 1fr 1fr; gap: 1.5mm 4mm; }
.choices li { padding-left: 6mm; text-indent: -6mm; }
.choices li::before { content: ""; display: inline-block; width: 3.4mm; height: 3.4mm; margin-right: 2.6mm;
  border: 0.3mm solid #000; vertical-align: -0.4mm; text-indent: 0; }
table { border-collapse: collapse; width: 100%; table-layout: fixed; }
th, td { border: 0.2mm solid #000; padding: 1.2mm 1.5mm; text-align: center; height: 8mm; font-weight: 400; }
th { background: #e8e8e8; font-size: 9.5pt; }
.key, .questions + .questions { break-before: page; }
.marks { white-space: nowrap; }
.key .exercise { padding: 2.5mm 0; font-size: 10pt; }
.key .exercise > b { font-size: 11pt; }
.key svg { width: 42mm; height: auto; }
.key .hand svg { width: auto; }
.key .drawing { display: flex; gap: 3mm; align-items: flex-start; }
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
)


def _sign(inside: str) -> str:
    return (
        '<svg width="4.4mm" height="4.4mm" viewBox="0 0 10 10" aria-hidden="true">'
        f'<circle cx="5" cy="5" r="4.2" fill="none" stroke="#000"/>{inside}</svg>'
    )


DOT, CROSS = _sign('<circle cx="5" cy="5" r="1.3"/>'), _sign('<path d="M2 2l6 6M2 8l6-6" stroke="#000"/>')


def questions_page(sheets: Sequence[Sheet], paper: str, title: str = TITLE) -> str:
    """The questions only, of each version."""
    return _page(sheets, paper, title, "".join(_questions(sheet, paper, title) for sheet in sheets))


def key_page(sheets: Sequence[Sheet], paper: str, title: str = TITLE) -> str:
    """The answers only."""
    return _page(sheets, paper, f"{title} Key", "".join(_key(sheet, title) for sheet in sheets))


def whole_page(sheets: Sequence[Sheet], paper: str, title: str = TITLE) -> str:
    """The questions, then the answers on a new page."""
    asked = "".join(_questions(sheet, paper, title) for sheet in sheets)
    return _page(sheets, paper, title, asked + "".join(_key(sheet, title) for sheet in sheets))


def _page(sheets: Sequence[Sheet], paper: str, title: str, body: str) -> str:
    margins = f"{MARGINS['top']:g}mm {MARGINS['side']:g}mm {MARGINS['bottom']:g}mm"
    feet = "".join(f".sheet-{sheet.version} {{ page: sheet-{sheet.version}; }}\n{_foot(sheet)}" for sheet in sheets)
    return (
        '<!DOCTYPE html>\n<html lang="en" xmlns="http://www.w3.org/1999/xhtml">\n<head>\n<meta charset="utf-8"/>\n'
        '<meta name="viewport" content="width=device-width, initial-scale=1"/>\n'
        f"<title>{escape(title)}</title>\n<style>{STYLE}"
        f"@page {{ size: {PAPERS[paper]} portrait; margin: {margins}; }}\n{feet}</style>\n</head>\n"
        f"<body>\n<main>\n{body}</main>\n</body>\n</html>\n"
    )


def _foot(sheet: Sheet) -> str:
    """The foot of a version's pages: loose ones can be told apart."""
    font = 'font: 8.5pt "Liberation Sans", Arial, sans-serif'
    said = f'"Sheet {sheet.name}, page " counter(page) " of " counter(pages)'
    return f"@page sheet-{sheet.version} {{ @bottom-right {{ {font}; content: {said}; }} }}\n"


def _questions(sheet: Sheet, paper: str, title: str) -> str:
    exercises = "".join(
        _section(_id("question", sheet, number), number, question, _asked(question, lines), [question.exercise.drawing])
        for number, (question, lines) in enumerate(zip(sheet.questions, lines_to_write(sheet, paper), strict=True), 1)
    )
    return (
        f'<article class="questions sheet-{sheet.version}">\n<header class="head"><h1>{_text(title)}{_version(sheet)}</h1>\n'
        '<p class="fields"><span>Name </span><span>Date </span>'
        f'<span class="points">Mark</span> / {sheet.marks}</p></header>\n'
        f'<p class="agreed">{DOT} current toward you, {CROSS} current away from you. '
        "B field, I current, F force, v motion; conventional current, from + to −.</p>\n"
        f"{exercises}</article>\n"
    )


def _version(sheet: Sheet) -> str:
    return f" <small>Version {sheet.version}</small>" if sheet.version else ""


def _key(sheet: Sheet, title: str) -> str:
    exercises = "".join(
        _section(_id("answer", sheet, number), number, question, _answered(question), [question.exercise.solution, question.exercise.hand])
        for number, question in enumerate(sheet.questions, 1)
    )
    heading = f"<h1>Key: {_text(title)} <small>(sheet {sheet.name}, {sheet.marks} marks)</small></h1>"
    return f'<article class="key sheet-{sheet.version}">\n{heading}\n{exercises}</article>\n'


def _id(name: str, sheet: Sheet, number: int) -> str:
    return f"{name}-{sheet.version}{number}"


def _section(name: str, number: int, question: Question, body: str, drawings: Sequence[str]) -> str:
    solution, *hand = drawings
    parts = [solution, *(f'<div class="hand">{each}</div>' for each in hand if each)]
    drawn = f'<div class="drawing">{"".join(parts)}</div>' if any(parts) else ""
    return (
        f'<section class="exercise" data-kind="{question.kind}" id="{name}"><b>{number}</b>'
        f'<div class="body">{body}</div>{drawn}</section>\n'
    )


def _marks(question: Question) -> str:
    return f' <span class="marks">({"1 mark" if question.marks == 1 else f"{question.marks} marks"})</span>'


def _asked(question: Question, lines: int) -> str:
    exercise = question.exercise
    room = f'<div class="lines">{"<i></i>" * lines}</div>' if lines else ""
    return f"<p>{_text(exercise.text)}{_marks(question)}</p>{_table(exercise, exercise.table)}{_choices(exercise.choices)}{room}"


def _answered(question: Question) -> str:
    exercise: Exercise = question.exercise
    workings = "".join(f"<p>{_text(line)}</p>" for line in exercise.workings)
    accepted = f"<p>Accept {_text('; '.join(each.text for each in exercise.accepted))}.</p>" if exercise.accepted else ""
    answer = f'<p class="answer"><span>{_text(exercise.answer)}</span>{_marks(question)}</p>'
    return f"{answer}{accepted}{_table(exercise, exercise.filled)}<div>{workings}</div>"


def _text(text: str) -> str:
    """Text as HTML, with what follows a _ as a subscript, as in n_s."""
    return re.sub(r"\b([A-Za-z])_([A-Za-z0-9]+)", r"\1<sub>\2</sub>", escape(text, quote=False))


def _choices(choices: tuple[str, ...]) -> str:
    if not choices:
        return ""
    return f'<ul class="choices">{"".join(f"<li>{_text(choice)}</li>" for choice in choices)}</ul>'


def _table(exercise: Exercise, rows: tuple[tuple[str, ...], ...]) -> str:
    if not rows:
        return ""
    head, *others = rows
    columns = "".join(f'<col style="width: {100 * share:.0f}%"/>' for share in column_shares(exercise))
    body = "".join(f"<tr>{_cells('td', row)}</tr>" for row in others)
    return f"<table><colgroup>{columns}</colgroup><thead><tr>{_cells('th', head)}</tr></thead><tbody>{body}</tbody></table>"


def _cells(tag: str, cells: tuple[str, ...]) -> str:
    return "".join(f"<{tag}>{_text(cell)}</{tag}>" for cell in cells)
