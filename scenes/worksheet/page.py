"""A worksheet as a page to print."""

from __future__ import annotations

from collections.abc import Sequence

from scenes.worksheet.exercise import Exercise, drawn_hand
from scenes.worksheet.marking import points
from scenes.worksheet.paging import column_shares, lines_to_write
from scenes.worksheet.worksheet import Question, Sheet
from visual.paper.pages import choices, foot, printed, ruled, worded

TITLE = "Exercises on motors and generators"

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
table { border-collapse: collapse; width: 100%; table-layout: fixed; }
th, td { border: 0.2mm solid #000; padding: 1.2mm 1.5mm; text-align: center; height: 8mm; font-weight: 400; }
th { background: #e8e8e8; font-size: 9.5pt; }
.questions + .questions { break-before: page; }
.marks { white-space: nowrap; }
.key .exercise { padding: 2.5mm 0; font-size: 10pt; }
.key .exercise > b { font-size: 11pt; }
.key .marking { font-size: 9pt; border-left: 0.8mm solid #777; padding-left: 2mm; }
.key svg { width: 42mm; height: auto; }
.key .hand svg { width: auto; }
.key .drawing { display: flex; gap: 3mm; align-items: flex-start; }
.key td, .key th { height: auto; padding: 0.6mm 1mm; }
.key table { table-layout: auto; }
.key col { width: auto !important; }
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
    feet = "".join(
        f".sheet-{sheet.version} {{ page: sheet-{sheet.version}; }}\n{foot(f'Sheet {sheet.name}', f'sheet-{sheet.version}')}"
        for sheet in sheets  # loose pages can be told apart
    )
    return printed(title, body, paper, STYLE + feet)


def _questions(sheet: Sheet, paper: str, title: str) -> str:
    exercises = "".join(
        _section(_id("question", sheet, number), number, question, _asked(question, lines), [question.exercise.drawing])
        for number, (question, lines) in enumerate(zip(sheet.questions, lines_to_write(sheet, paper), strict=True), 1)
    )
    return (
        f'<article class="questions sheet-{sheet.version}">\n<header class="head"><h1>{worded(title)}{_version(sheet)}</h1>\n'
        '<p class="fields"><span>Name </span><span>Date </span>'
        f'<span class="points">Mark</span> / {sheet.marks}</p></header>\n'
        f'<p class="agreed">{DOT} current toward you, {CROSS} current away from you. '
        "B field, I current, F force, v motion; conventional current, from + to −. Write down how you find a figure: formula and numbers "
        "have marks too.</p>\n"
        f"{exercises}</article>\n"
    )


def _version(sheet: Sheet) -> str:
    return f" <small>Version {sheet.version}</small>" if sheet.version else ""


def _key(sheet: Sheet, title: str) -> str:
    exercises = "".join(
        _section(_id("answer", sheet, number), number, question, _answered(question), _solved(question.exercise))
        for number, question in enumerate(sheet.questions, 1)
    )
    heading = f"<h1>Key: {worded(title)} <small>(sheet {sheet.name}, {sheet.marks} marks)</small></h1>"
    carried = '<p class="agreed">A figure that is rightly worked out from an earlier wrong one has its mark: an error counts once.</p>'
    return f'<article class="key sheet-{sheet.version}">\n{heading}\n{carried}\n{exercises}</article>\n'


def _solved(exercise: Exercise) -> list[str]:
    return [exercise.solution, drawn_hand(exercise.hand)]


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
    return f"<p>{worded(exercise.text)}{_marks(question)}</p>{_table(exercise, exercise.table)}{choices(exercise.choices)}{ruled(lines)}"


def _answered(question: Question) -> str:
    exercise: Exercise = question.exercise
    workings = "".join(f"<p>{worded(line)}</p>" for line in exercise.workings)
    accepted = f"<p>Accept {worded('; '.join(each.text for each in exercise.accepted))}.</p>" if exercise.accepted else ""
    answer = f'<p class="answer"><span>{worded(exercise.answer)}</span>{_marks(question)}</p>'
    given = "; ".join(f"{marks} for {worded(what)}" for marks, what in points(exercise, question.marks))
    for_what = f'<p class="marking">Marks: {given}.</p>' if question.marks > 1 else ""
    return f"{answer}{for_what}{accepted}{_table(exercise, exercise.filled)}<div>{workings}</div>"


def _table(exercise: Exercise, rows: tuple[tuple[str, ...], ...]) -> str:
    if not rows:
        return ""
    head, *others = rows
    columns = "".join(f'<col style="width: {100 * share:.0f}%"/>' for share in column_shares(exercise))
    body = "".join(f"<tr>{_cells('td', row)}</tr>" for row in others)
    return f"<table><colgroup>{columns}</colgroup><thead><tr>{_cells('th', head)}</tr></thead><tbody>{body}</tbody></table>"


def _cells(tag: str, cells: tuple[str, ...]) -> str:
    return "".join(f"<{tag}>{worded(cell)}</{tag}>" for cell in cells)
