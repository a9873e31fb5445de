"""What is said of the measurement, and the question: which fault is it? The reason comes from the figures."""

from __future__ import annotations

from scenes.drives.instruments import order
from scenes.drives.instruments.case import Case
from scenes.drives.instruments.diagnosis import agreeing, deciding, kinds_of, refuting, telling, usual_measurements
from scenes.drives.instruments.faults import CHOICES, HIDDEN
from scenes.drives.instruments.measured import CLAMP, INSULATION, WORDS, Laid, Measured, expected, measure
from scenes.drives.instruments.snapshot import MOST_RECORDS, Snapshot
from scenes.scene.scene import Question
from scenes.scene.story import Look

KINDS = dict(CHOICES)
COUNTED = ("no", "one", "two", "three", "four", "five", "six", "seven", "eight")


def sentence(now: Snapshot, look: Look) -> str:
    return f"{_board(now, look)} {_instrument(now)}"


def _board(now: Snapshot, look: Look) -> str:
    work = now.setup.work
    if work != order.ON:
        return f"The motor is {dict(order.WORK)[work]}."
    turning = look.view.turning(now.speed)
    if turning == "none":
        return "The motor is switched on and does not turn."
    return f"The motor is switched on and, looking at {look.view.end}, turns {turning}."


def _instrument(now: Snapshot) -> str:
    if now.mistake:
        return now.mistake
    name, clamp = WORDS[now.setup.instrument], now.setup.instrument == CLAMP
    if now.answer is None:
        return f"The {name} is not laid on: {'press a lead, or choose it' if clamp else 'press two points, or choose them'} in the list."
    points = now.answer.laid.points
    where = f"round lead {points[0]}" if clamp else f"on {', '.join(points[:-1])} and {points[-1]}"
    return f"The {name} {where} shows {now.answer.shown}."


def question(now: Snapshot, look: Look) -> Question:
    case = now.case
    records = _records(now)
    text = sheet(case) if now.setup.sheet else f"Measure, in the right order. Figures so far: {len(records) or 'none'}."
    where = "on the sheet" if now.setup.sheet else "you took"
    against = tuple((kind, speaks_against(case, kind, records, where)) for kind, _ in CHOICES if kind != case.fault.answer)
    again = "" if now.setup.sheet else "Measure on, and name it once more."
    return Question(f"{text} Which fault is it?", CHOICES, case.fault.answer, _why(case, records, where), against=against, again=again)


def _records(now: Snapshot) -> tuple[Measured, ...]:
    """The figures that are there to judge by."""
    if not now.setup.sheet:
        return now.records
    return (*now.records, *[measure(now.case, laid) for laid in usual_measurements()])


def sheet(case: Case) -> str:
    """The usual measurements as a test sheet."""
    usual = usual_measurements()
    lines = [
        ("Live, L1, L2, L3 carry", usual[0:3]),
        ("between L1-L2, L2-L3, L3-L1 of the supply there are", usual[3:6]),
        ("between U1-V1, V1-W1, W1-U1", usual[6:9]),
        ("Dead, U1-V1, V1-W1, W1-U1 have with the links on", usual[9:12]),
        ("windings U, V, W by themselves", usual[12:15]),
        ("and to earth", usual[15:18]),
    ]
    said = [f"{words} {', '.join(measure(case, laid).shown for laid in each)}" for words, each in lines]
    plate = f"{case.plate.line_current(400.0):.1f} A on its plate, {case.winding_ohm:.3f} Ω a winding when new"
    return f"Test sheet of a motor in {case.joined}, {plate}. {'; '.join(said[:3])}. {'; '.join(said[3:])}."


def speaks_against(case: Case, kind: str, records: tuple[Measured, ...], where: str) -> str:
    """The fewest figures that a fault of that kind does not give, wherever it is; or that there are none, and so more must be measured."""
    said = f'"{KINDS[kind]}"'
    if not records:
        return f"Nothing was measured, so nothing speaks for or against {said}: measure first."
    figures = refuting(case, kind, records)
    if figures:
        return f"{' together with '.join(map(said_figure, figures))} {'speaks' if len(figures) == 1 else 'speak'} against {said}."
    if not telling(case, records):
        return f"Every figure {where} is that of a sound motor and fits {said} too: measure something else."
    return f"Every figure {where} fits {said} too: measure something else."


def said_figure(each: Measured) -> str:
    return f"{each.laid.symbol or each.laid.words} {each.shown}"


def _why(case: Case, records: tuple[Measured, ...], where: str) -> str:
    """The fault, what shows it of the figures there are, and what else would show the same."""
    truth = f"{case.fault.words(case.joined)[0].upper()}{case.fault.words(case.joined)[1:]}"
    shown = telling(case, records)[:3]
    figures = "; ".join(f"{said_figure(each)} ({expected(case, each.laid)})" for each in shown)
    if not records:
        evidence = ": nothing was measured"
    elif not shown:
        evidence = f". {'Every' if len(records) > 1 else 'The'} figure {where} is that of a sound motor"
    else:
        evidence = f": {figures}"
    left = agreeing(case, records)
    others = [kind for kind in kinds_of(left) if kind != case.fault.answer]
    if not others:
        return f"{truth}{evidence}. Nothing else that is asked about gives these figures."
    laid = deciding(case, left)
    among = f"{COUNTED[len(others)]} other answers" if len(others) > 3 else " and ".join(f'"{KINDS[kind]}"' for kind in others)
    as_well = f"{among} {'fits' if len(others) == 1 else 'fit'} as well"
    if laid is None:
        return f"{truth}{evidence}; {as_well}, and no measurement here tells them apart."
    return f"{truth}{evidence}; {as_well}: {_described(laid)} would show {measure(case, laid).shown}."


def _described(laid: Laid) -> str:
    where = f"round {laid.points[0]}" if laid.instrument == CLAMP else f"from {laid.points[0]} to {laid.points[1]}"
    off = "" if laid.condition.links or laid.instrument == INSULATION else ", links off,"
    return f"the {WORDS[laid.instrument]} {where}{off}"


def random_setup(random) -> dict:
    """A hidden fault, its figures on a test sheet."""
    return {
        "fault": HIDDEN,
        "number": float(random.randint(1, 9999)),
        "joined": random.choice(("star", "delta")),
        "asked": "sheet",
    }


assert MOST_RECORDS >= len(usual_measurements())  # what is on a sheet can be measured by hand
