"""The report on a test: a page to read or print, and a table for a spreadsheet."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from datetime import datetime
from html import escape

from scenes import catalogue
from scenes.kept.lines import table
from scenes.marked.marks import QuestionSeen, as_put, mistakes_of_all, questions_seen
from scenes.marked.record import Answered, Terms
from scenes.marked.sittings import Sitting, seconds
from scenes.questions.mistakes import told
from visual.paper.pages import GENERATOR, unparted

RIGHT, WRONG, OPEN = "\N{CHECK MARK}", "\N{MULTIPLICATION SIGN}", "\N{EN DASH}"

STYLE = """
* { box-sizing: border-box; margin: 0; padding: 0; }
html { font: 11pt/1.4 "Liberation Sans", Arial, Helvetica, sans-serif; color: #000; background: #fff; }
body { max-width: 200mm; margin: 8mm auto; padding: 0 4mm; }
h1 { font-size: 17pt; line-height: 1.2; border-bottom: 0.6mm solid #000; padding-bottom: 2mm; margin-bottom: 3mm; }
h2 { font-size: 13pt; margin: 7mm 0 2mm; }
p { margin-bottom: 2mm; }
.wide { overflow-x: auto; }
table { border-collapse: collapse; width: 100%; }
th, td { border: 0.2mm solid #000; padding: 1mm 1.6mm; text-align: left; font-variant-numeric: tabular-nums; }
th { background: #e8e8e8; font-size: 9.5pt; }
td { white-space: pre-line; }
tr { break-inside: avoid; }
"""


def report_page(terms: Terms, sittings: Sequence[Sitting], file: str) -> str:
    """Each trainee's marks, each question, and the mistakes, as one HTML page without anything from elsewhere."""
    asked = range(1, terms.questions + 1)
    trainees = [
        [sitting.name, _marks(sitting, terms.questions), *(_sign(sitting, place) for place in asked)] for sitting in _by_name(sittings)
    ]
    questions = [
        [str(one.place), _asked(one), one.answer or OPEN, _share(one.right, one.answered), _commonest(one)]
        for one in questions_seen(terms, sittings)
    ]
    mistakes = [[name, str(times), told(name)] for name, times in mistakes_of_all(sittings)]
    answers = [
        [sitting.name, str(place), as_put(answer), answer.given, answer.answer, _sign(sitting, place), answer.mistake or OPEN]
        for sitting in _by_name(sittings)
        for place, answer in sorted(sitting.answers.items())
    ]
    of_an_answer = ["Name", "", "Question, and what was set", "Answered", "Right answer", "", "Mistake"]
    topics = "; ".join(catalogue.scene_class(name).title for name in terms.scenes)
    when = datetime.fromtimestamp(seconds(terms.when))
    limit = f"{terms.minutes:g} minutes" if terms.minutes else "no time limit"
    title = f"Marked test of {when.day} {when:%B %Y}"
    parts = [
        f"<h1>{title}</h1>",
        f"<p>Topics: {escape(topics)}.</p>",
        f"<p>Set up at {when:%H:%M}. "
        f"{terms.questions} questions to each trainee, each with other figures; {limit}. {len(sittings)} trainees.</p>",
        "<h2>Marks</h2>",
        _table(["Name", "Marks", *map(str, asked)], trainees),
        f"<p>{RIGHT} right, {WRONG} wrong, {OPEN} not answered.</p>",
        "<h2>Questions</h2>",
        _table(["", "Question", "Right answer", "Right", "Commonest mistake (times)"], questions),
        *(["<h2>Mistakes</h2>", _table(["Mistake", "Times", "What it is"], mistakes)] if mistakes else []),
        *(["<h2>Answers</h2>", _table(of_an_answer, answers)] if answers else []),
        f"<p>The answers are kept with names in {escape(file)}. When you have no more need of them, delete them:"
        f" <code>thumbwise test --results {escape(file)} --delete</code>; and this page.</p>",
    ]
    head = f'<meta charset="utf-8">{GENERATOR}<title>{title}</title><meta name="viewport" content="width=device-width, initial-scale=1">'
    return f'<!doctype html>\n<html lang="en"><head>{head}<style>{STYLE}</style></head>\n<body>\n{chr(10).join(parts)}\n</body></html>\n'


def marks_table(terms: Terms, sittings: Sequence[Sitting]) -> str:
    """A row for each trainee as CSV: name, times, marks, and of every question that was answered what was asked and set, the answer
    given, the right one, whether it was right, and the mistake, if it is known."""
    places = range(1, terms.questions + 1)
    columns = ["name", "begun", "last answer", "handed in", "marks", "questions"]
    columns += [f"{name} {place}" for place in places for name in ("question", "set-up", "given", "right answer", "result", "mistake")]
    rows = []
    for sitting in _by_name(sittings):
        answers = [sitting.answers.get(place) for place in places]
        times = [_written(sitting.begun), _written(max((seconds(each.when) for each in answers if each), default=None))]
        cells = [cell for each in answers for cell in _cells(each)]
        rows.append([sitting.name, *times, "no" if _is_open(sitting, terms.questions) else "yes", sitting.marks, terms.questions, *cells])
    return table(columns, rows)


def _by_name(sittings: Sequence[Sitting]) -> list[Sitting]:
    return sorted(sittings, key=lambda sitting: sitting.name.casefold())


def _asked(question: QuestionSeen) -> str:
    """What it is about, and what was asked, with one trainee's figures if they stand in it."""
    shown = [f"{'For example: ' if len(question.texts) > 1 else ''}{text}" for text in question.texts[:1]]
    return "\n".join((question.topic, *shown))


def _commonest(question: QuestionSeen) -> str:
    """Each of the mistakes made most often."""
    return "\n".join(f"{name} ({question.times})" for name in question.mistakes) or OPEN


def _marks(sitting: Sitting, questions: int) -> str:
    return f"{sitting.marks} of {questions}{', not handed in' if _is_open(sitting, questions) else ''}"


def _is_open(sitting: Sitting, questions: int) -> bool:
    """Whether it was neither handed in nor answered to its end."""
    return sitting.handed_in is None and sitting.place(questions) is not None


def _cells(answer: Answered | None) -> tuple[str | None, ...]:
    if answer is None:
        return ("",) * 6
    return answer.question, answer.set_up, answer.given, answer.answer, "right" if answer.right else "wrong", answer.mistake


def _sign(sitting: Sitting, place: int) -> str:
    answer = sitting.answers.get(place)
    return OPEN if answer is None else RIGHT if answer.right else WRONG


def _share(right: int, answered: int) -> str:
    return f"{right} of {answered} ({right / answered:.0%})" if answered else OPEN


def _written(moment: float | None) -> str:
    return "" if moment is None else f"{datetime.fromtimestamp(moment):%Y-%m-%d %H:%M:%S}"


def _table(heads: Iterable[str], rows: Iterable[Sequence[str]]) -> str:
    def row(cells: Iterable[str], tag: str) -> str:
        return f"<tr>{''.join(f'<{tag}>{escape(unparted(cell))}</{tag}>' for cell in cells)}</tr>"

    body = "".join(row(cells, "td") for cells in rows)
    return f'<div class="wide"><table>\n<thead>{row(heads, "th")}</thead>\n<tbody>{body}</tbody></table></div>'
