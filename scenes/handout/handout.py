"""What is printed of a lesson: each step as the class sees it, with its picture, and what its question's answer shows."""

from __future__ import annotations

import re
from collections.abc import Awaitable, Callable
from contextlib import AsyncExitStack
from dataclasses import dataclass

from scenes.lesson.lesson_bench import LessonBench
from scenes.lesson.pictures import size_of
from scenes.lesson.steps import Lesson
from scenes.picture.picture import Format, NoPicture, drawing
from scenes.scene.described import described_mark, described_plot, described_readings
from scenes.scene.question import Question
from scenes.scene.scene import Scene
from visual.host import messages
from visual.host.server import Host
from visual.solid.told import told

MOMENT = 2.0  # s that a step runs before it is printed: what moves is under way, and what swings has turned
RATE = 12  # pictures a second
STEP, LONGEST = 0.01, 12.0  # s, of its own time: in such pieces, and for so long, a machine is awaited that runs up
FACTOR, NUMBER = re.compile(r"(?:sin |cos )?[^\W\d_]\w*"), re.compile(r"[-−]?\d[\d.]*(?: [^\W\d]\S*(?: m)?)?")  # of a product; its unit
UNKNOWN = "?"  # a figure that the class shall find
PRINTED = Format((600, 400), 1.5, "jpeg")  # letters as large as the text beside it, and 270 dots to the inch


@dataclass(frozen=True)
class PrintedStep:
    """One step on paper: a `page` of one's own, or a demonstration.

    `begins`: the step before was of another scene, and here is its `caution`; `view`: where it is seen from; `key`: letter and meaning
    of the arrows in sight; `says`: what is seen, in words; `plot` and `marks`: the curves beside the picture, if there are any;
    `readings`: as the class sees them, a figure that it shall find as "?"; `after`: these figures, of the same instant, or all of
    them once it runs, where any may be what is asked for;
    `picture`: a JPEG, empty without one; `shape`: height over width of whatever picture there is, 0 without one.
    """

    number: int
    caption: str
    notes: str
    page: messages.OwnPage | None = None
    scene: str = ""
    begins: bool = False
    caution: str = ""
    view: str = ""
    key: tuple[tuple[str, str], ...] = ()
    says: str = ""
    plot: messages.Plot | None = None
    marks: tuple[messages.Mark, ...] = ()
    readings: tuple[messages.Reading, ...] = ()
    question: Question | None = None
    after: tuple[messages.Reading, ...] = ()
    picture: bytes = b""
    shape: float = 0.0


async def printed_steps(
    lesson: Lesson,
    browser: str | None,
    done: Callable[[int], object] = lambda steps: None,
    no_picture: Callable[[NoPicture], object] = lambda why: None,
) -> tuple[PrintedStep, ...]:
    """Every step, with the pictures that the browser at that path draws, or without pictures.

    `done(steps)` is called after each. If the browser fails, `no_picture` is told why, and the other steps have no picture.
    """
    bench = LessonBench(Host(), lesson, may_wait=True)
    steps = []
    async with AsyncExitStack() as stack:
        taken: Callable[[], Awaitable[bytes]] | None = None
        for place, step in enumerate(lesson.steps):
            bench.go_to(place)
            if step.scene and not (step.hold or step.question):
                _run(bench)
                _settle(bench.scene)
            bench.running = False
            bench.show_state()
            drawn = b""
            try:
                if step.scene and browser is not None and not bench.prediction.covers:
                    if taken is None:
                        taken = await stack.enter_async_context(drawing(bench, PRINTED, browser))
                    drawn = await taken()
            except NoPicture as why:
                browser = None
                no_picture(why)
            steps.append(_printed(bench, drawn))
            done(place + 1)
    return tuple(steps)


def _run(bench: LessonBench) -> None:
    bench.running = True
    for _ in range(round(MOMENT * RATE)):
        bench.frame(1 / RATE)


def _settle(scene: Scene) -> None:
    """Let a machine that comes to its speed first do so, in its own time however slowly it is shown."""
    steps = 0
    while scene.runs_up and steps < LONGEST / STEP and not scene.shown_whole(steps * STEP):
        scene.step(STEP)
        steps += 1


def _printed(bench: LessonBench, picture: bytes) -> PrintedStep:
    """The step that stands on the bench; a question that waits is answered, and what follows has run."""
    step, place, scene = bench.step, bench.place, bench.scene
    if not step.scene:
        own = bench.lesson.pictures[step.picture].as_address() if step.picture else ""
        asked = bench.prediction.question
        shape = _shape(bench.lesson.pictures[step.picture].body) if step.picture else 0.0
        return PrintedStep(place + 1, caption=step.title, notes=step.notes, page=step.as_page(own), question=asked, shape=shape)
    before = [each.scene for each in bench.lesson.steps[:place] if each.scene]
    begins = not before or before[-1] != step.scene
    shown = {letter for letter, _, _ in told(scene.drawn).arrows}
    covered = bench.prediction.covers
    plot, marks = None if covered else scene.plot(bench.reveals_answer), scene.marks(bench.reveals_answer)
    readings, question = _in_sight(bench, bench.reveals_answer), bench.prediction.question
    figures = {_which(one): one for one in _in_sight(bench, True) if _given_for(one)}
    after = tuple(figures[_which(one)] for one in readings if one["value"] == UNKNOWN and _which(one) in figures)
    of_what_comes = bench.prediction.own is not None and scene.runs_up and not step.hold  # those of the start would contradict it
    if bench.prediction.kind or of_what_comes:  # any of them may be what is asked for
        bench.reveal()
        if not (step.hold or bench.prediction.posed.of_its_start):
            _settle(scene)
        readings, after = (), _in_sight(bench, True) if step.readings or of_what_comes else ()
    return PrintedStep(
        number=place + 1,
        scene=scene.title,
        begins=begins,
        caution=scene.caution if begins else "",
        caption=step.caption or scene.title,
        view=scene.eye.words,
        key=() if covered else tuple((key.letter, key.words) for key in scene.arrows if key.letter in shown),
        says=scene.says() if question is None else scene.title,
        plot=None if plot is None or not any(line.points for line in plot.lines) else described_plot(plot),
        marks=tuple(map(described_mark, marks)),
        readings=tuple(
            one if one["value"] != UNKNOWN else one | {"formula": _given_for(figures[_which(one)])}
            for one in readings
            if one["value"] != UNKNOWN or _which(one) in figures
        ),
        question=question,
        after=after,
        notes=step.notes,
        picture=picture,
        shape=_shape(picture) if picture else 0.0,
    )


def _shape(picture: bytes) -> float:
    width, height = size_of(picture) or PRINTED.size
    return height / width


def _which(reading: messages.Reading) -> tuple[str, str]:
    return reading["symbol"], reading["words"]


def _given_for(reading: messages.Reading) -> str:
    """The quantities that a figure is the product of, each by its letter; "" where that is not how it is found, such as the speed at an
    instant on the way, or where it is 0 because nothing is switched on yet."""
    figure, formula = re.match(r"[-−]?[\d.]+", reading["value"]), reading["formula"].split(" = ")
    if figure is None or float(figure[0].replace("−", "-")) == 0 or len(formula) < len(("letter", "symbols", "numbers")):
        return ""
    symbols, numbers = FACTOR.findall(formula[1]), formula[2].split(" × ")
    if " ".join(symbols) != formula[1] or len(symbols) != len(numbers) or not all(NUMBER.fullmatch(number) for number in numbers):
        return ""
    return ", ".join(f"{symbol} = {number}" for symbol, number in zip(symbols, numbers, strict=True))


def _in_sight(bench: LessonBench, reveals_answer: bool) -> tuple[messages.Reading, ...]:
    """The readings that matter in this step."""
    readings = described_readings(bench.scene.readings(reveals_answer), reveals_answer, bench.first_readings)
    return tuple(reading for reading in readings if reading["first"])
