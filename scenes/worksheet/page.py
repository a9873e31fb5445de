"""A worksheet as a page to print."""

from __future__ import annotations

from scenes.worksheet.exercise import Exercise
from scenes.worksheet.worksheet import Sheet
from visual.paper.pages import choices, printed, ruled, worded

TITLE = "Which way, and how fast?"

STYLE = """
.fields .points { flex: 0.9; }
.agreed { font-size: 9.5pt; margin-bottom: 1mm; }
.agreed svg { display: inline-block; vertical-align: -1mm; }
.exercise { display: grid; grid-template-columns: 9mm 1fr auto; column-gap: 4mm; padding: 3.5mm 0;
  border-top: 0.2mm solid #000; break-inside: avoid; }
.agreed + .exercise, h1 + .exercise { border-top: 0; }
.exercise > b { font-size: 13pt; line-height: 1.2; }
.body > * + * { margin-top: 2mm; }
.drawing { align-self: start; }
table { border-collapse: collapse; width: 100%; }
th, td { border: 0.2mm solid #000; padding: 1.2mm 1.5mm; text-align: center; height: 8mm; font-weight: 400; }
th { background: #e8e8e8; font-size: 9.5pt; }
.key .exercise { padding: 2.5mm 0; font-size: 10pt; }
.key .exercise > b { font-size: 11pt; }
.key svg { width: 42mm; height: auto; }
.key td, .key th { height: auto; padding: 0.6mm 1mm; }
@media screen and (max-width: 150mm) {
  .exercise { grid-template-columns: 9mm 1fr; }
  .drawing { grid-column: 2; margin-top: 3mm; }
}
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
    return printed(title, body, paper, STYLE, f"Sheet {sheet.seed}")


def _questions(sheet: Sheet, title: str) -> str:
    exercises = "".join(
        _section("question", number, kind, _asked(exercise), exercise.drawing) for number, (kind, exercise) in enumerate(sheet.exercises, 1)
    )
    return (
        f'<article class="questions">\n<header class="head"><h1>{worded(title)}</h1>\n<p class="fields">'
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
    heading = f"<h1>Key: {worded(title)} <small>(sheet {sheet.seed})</small></h1>"
    return f'<article class="key">\n{heading}\n{exercises}</article>\n'


def _section(name: str, number: int, kind: str, body: str, drawing: str) -> str:
    drawn = f'<div class="drawing">{drawing}</div>' if drawing else ""
    return (
        f'<section class="exercise" data-kind="{kind}" id="{name}-{number}"><b>{number}</b>'
        f'<div class="body">{body}</div>{drawn}</section>\n'
    )


def _asked(exercise: Exercise) -> str:
    return f"<p>{worded(exercise.text)}</p>{_table(exercise.table)}{choices(exercise.choices)}{ruled(exercise.lines)}"


def _answered(exercise: Exercise) -> str:
    workings = "".join(f"<p>{worded(line)}</p>" for line in exercise.workings)
    return f'<p class="answer">{worded(exercise.answer)}</p>{_table(exercise.filled)}<div>{workings}</div>'


def _table(rows: tuple[tuple[str, ...], ...]) -> str:
    if not rows:
        return ""
    head, *others = rows
    body = "".join(f"<tr>{_cells('td', row)}</tr>" for row in others)
    return f"<table><thead><tr>{_cells('th', head)}</tr></thead><tbody>{body}</tbody></table>"


def _cells(tag: str, cells: tuple[str, ...]) -> str:
    return "".join(f"<{tag}>{worded(cell)}</{tag}>" for cell in cells)
