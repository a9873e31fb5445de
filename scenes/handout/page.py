"""The handout as a page to print: a picture beside each step's words, its figures with their formulas, and its question."""

from __future__ import annotations

import re
from base64 import b64encode
from collections.abc import Sequence
from html import escape

from scenes.handout.handout import PRINTED, UNKNOWN, PrintedStep
from scenes.handout.paging import CURVES, Place, placed
from scenes.scene.question import DRAWN, PRESSED
from visual.host import messages
from visual.paper.pages import choices, foot, printed, ruled, worded
from visual.paper.plots import plotted

IN_PICTURE = {PRESSED: "Mark it in the picture, or tick it:", DRAWN: "Draw it in the picture, or tick it:"}
LEAD = re.compile(r"([^\W\d_][^\W\d_]*(?:[ ',-]+[^\W\d_]+)*): (.+)")  # a line of the notes that says what it is

STYLE = """
.step { display: grid; column-gap: 5mm; padding: 3mm 0; border-top: 0.2mm solid #777;
  break-inside: avoid; }
.head + .step { border-top: 0; }
.begins-page { break-before: page; border-top: 0; }
.begins { border-top: 0.6mm solid #000; margin-top: 2mm; }
.scene { margin-bottom: 3mm; }
.scene h2 { font-size: 13pt; }
.scene p { font-size: 8.5pt; }
.step > :is(.scene, .asked, .notes) { grid-column: 1 / -1; }
.asked, .whole > .seen { margin-top: 1.8mm; }
.whole > :is(.seen, .asked, .notes) { order: 1; }
.whole .readings { max-width: 116mm; }
.step h3 { font-size: 11pt; line-height: 1.25; }
.step h3 b { font-size: 13pt; margin-right: 1.5mm; }
.words .item { display: list-item; margin-left: 5mm; }
:is(.words, .asked) > * + * { margin-top: 1.8mm; }
.seen > svg { margin-top: 2mm; }
figure img { display: block; width: 100%; height: auto; border: 0.2mm solid #777; }
figcaption { font-size: 8.5pt; line-height: 1.3; margin-top: 1mm; }
figcaption b { font-style: italic; }
.readings { border-collapse: collapse; width: 100%; font-size: 9.5pt; line-height: 1.25; }
.readings th { font-weight: 400; text-align: left; padding: 0.7mm 2mm 0 0; vertical-align: baseline; }
.readings th i { font-weight: 700; }
.readings td { text-align: right; padding-top: 0.7mm; vertical-align: baseline; white-space: nowrap; font-weight: 700; }
.readings .said { white-space: normal; }
.blank { display: inline-block; width: 18mm; border-bottom: 0.2mm solid #000; }
.figure .blank { width: 40mm; height: 7mm; }
.readings .formula { text-align: left; font-weight: 400; white-space: normal; padding: 0 0 0.7mm 4mm; border-bottom: 0.1mm solid #bbb; }
.step .question { font-weight: 700; }
.notes { font-size: 9pt; border-left: 0.8mm solid #777; padding-left: 3mm; margin-top: 2mm; }
.notes .care { border: 0.3mm solid #000; padding: 0.8mm 1.5mm; }
.answered { padding: 2.5mm 0; border-top: 0.2mm solid #777; break-inside: avoid; font-size: 10pt; }
.answered > * + * { margin-top: 1mm; }
.answered h2 { font-size: 10.5pt; font-weight: 400; }
@media screen and (max-width: 150mm) { .step { grid-template-columns: 1fr !important; row-gap: 3mm; } }
"""


def handout_page(title: str, steps: Sequence[PrintedStep], paper: str, notes: bool, answers: bool) -> str:
    """The steps, with the speaker's notes if asked for, and the answers on a last page unless they go elsewhere."""
    body = "".join(_step(step, place, notes) for step, place in zip(steps, placed(steps, paper, notes), strict=True))
    key = _answers(title, steps) if answers else ""
    fields = "" if notes else '<p class="fields"><span>Name </span><span>Date </span></p>'
    head = f'<header class="head"><h1>{worded(title)}</h1>{fields}</header>\n'
    return printed(title, f'<article class="handout">\n{head}{body}</article>\n{key}', paper, STYLE + foot(title))


def answers_page(title: str, steps: Sequence[PrintedStep], paper: str) -> str:
    """The answers only."""
    return printed(f"{title}: answers", _answers(title, steps), paper, STYLE + foot(f"{title}: answers"))


def _scene(step: PrintedStep) -> str:
    if not step.begins:
        return ""
    caution = f"<p><b>Caution:</b> {worded(step.caution)}</p>" if step.caution else ""
    return f'<div class="scene"><h2>{worded(step.scene)}</h2>{caution}</div>'


def _step(step: PrintedStep, place: Place, notes: bool) -> str:
    """Picture on the left, words on the right, the curves where there is more room for them, and the question below."""
    left, right = [_picture(step)], [f"<h3><b>{step.number}</b>{worded(step.caption)}</h3>", _text(step), _readings(step.readings)]
    if step.plot:
        below = any(left) and (place.curves_below or not place.beside)
        (left if below else right).append(
            plotted(step.plot, step.marks, place.beside if place.beside and not below else place.width, CURVES)
        )
    seen = f'<div class="seen" style="max-width: {place.width:g}mm">{"".join(left)}</div>' if any(left) else ""
    kinds = " ".join(["step", *["begins"] * step.begins, *["begins-page"] * place.begins_page, *["whole"] * (not place.beside)])
    columns = f"{place.width:g}mm 1fr" if seen and place.beside else "1fr"
    return (
        f'<section class="{kinds}" id="step-{step.number}" style="grid-template-columns: {columns}">{_scene(step)}{seen}'
        f'<div class="words">{"".join(right)}</div>{_question(step, place.lines)}{_notes(step.notes) if notes else ""}</section>\n'
    )


def _text(step: PrintedStep) -> str:
    """The text of a page of one's own: each line a paragraph; one that begins with a dash is an item of a list."""
    lines = [line.strip() for line in step.page["text"].splitlines()] if step.page else []
    items = ((re.match(r"[-–•*] +", line), line) for line in lines if line)
    return "".join(f'<p class="item">{worded(line[begun.end() :])}</p>' if begun else f"<p>{worded(line)}</p>" for begun, line in items)


def _picture(step: PrintedStep) -> str:
    if step.page and step.page["picture"]:
        return f'<figure><img alt="{escape(step.page["shows"] or step.caption)}" src="{step.page["picture"]}"/></figure>'
    if not step.picture:
        return ""
    key = "".join(f"; <b>{worded(letter)}</b> = {worded(words)}" for letter, words in step.key)
    return (
        f'<figure><img alt="{escape(step.says)}" src="data:image/{PRINTED.kind};base64,{b64encode(step.picture).decode()}"/>'
        f"<figcaption>View: {worded(step.view)}{key}</figcaption></figure>"
    )


def _readings(readings: Sequence[messages.Reading]) -> str:
    return f'<table class="readings">{"".join(map(_reading, readings))}</table>' if readings else ""


def _reading(reading: messages.Reading) -> str:
    phase = re.sub(r"(?<=\w) (?=\w+$)", "_", reading["symbol"])  # "U V": of V
    symbol = f"<i>{worded(phase)}</i> " if phase else ""
    figure = '<span class="blank"></span>' if reading["value"] == UNKNOWN else worded(reading["value"])
    said = "" if re.match(r"[-+−]?\d|\?", reading["value"]) else ' class="said"'
    words = f"{reading['words']}: work it out" if reading["value"] == UNKNOWN else reading["words"]
    formula = f'<tr><td class="formula" colspan="2">{worded(reading["formula"])}</td></tr>' if reading["formula"] else ""
    unit = "°" if reading["unit"] == "°" else f" {worded(reading['unit'])}"
    return f'<tr><th scope="row">{symbol}{worded(words)}</th><td{said}>{figure}{unit}</td></tr>{formula}'


def _question(step: PrintedStep, lines: int) -> str:
    if step.question is None:
        return ""
    asked = step.question
    listed = choices(words for _, words in asked.choices)
    in_picture = f"<p>{IN_PICTURE[asked.answered]}</p>" if step.picture and asked.answered in IN_PICTURE else ""
    room = f'<p class="figure"><span class="blank"></span> {worded(asked.figure.unit)}</p>' if asked.figure else "<p>Because:</p>"
    return f'<div class="asked"><p class="question">{worded(asked.text)}</p>{in_picture}{listed}{room}{ruled(lines)}</div>'


def _notes(notes: str) -> str:
    lines = [line.strip() for line in notes.splitlines() if line.strip()]
    return f'<div class="notes">{"".join(map(_noted, lines))}</div>' if lines else ""


def _noted(line: str) -> str:
    found = LEAD.fullmatch(line)
    if not found:
        return f"<p>{worded(line)}</p>"
    care = ' class="care"' if found[1].lower() in ("care", "caution", "safety", "warning") else ""
    return f"<p{care}><b>{worded(found[1])}:</b> {worded(found[2])}</p>"


def _answers(title: str, steps: Sequence[PrintedStep]) -> str:
    answered = "".join(_answer(step) for step in steps if step.question is not None)
    return f'<article class="key">\n<h1>Answers: {worded(title)}</h1>\n{answered}</article>\n' if answered else ""


def _answer(step: PrintedStep) -> str:
    assert step.question is not None
    answer = step.question.words_of(step.question.answer)
    accepted = f"; accept {step.question.figure.accepted}" if step.question.figure else ""
    return (
        f'<section class="answered" id="answer-{step.number}"><h2>{step.number} {worded(step.question.text)}</h2>'
        f'<p><b class="answer">{worded(answer)}</b>{worded(accepted)}</p>'
        f"<p>{worded(step.question.reason)}</p>{_readings(step.after)}</section>\n"
    )
