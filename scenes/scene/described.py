"""A scene, its controls, figures, views and curves as plain data: for the page, the command line and JSON."""

from __future__ import annotations

import math
from collections.abc import Sequence

from scenes.scene.curves import Chart, Mark
from scenes.scene.question import Question
from scenes.scene.scene import Reading
from visual.host import messages

USUAL, LEAST = 4, 3  # readings in sight: without a word on it, and at least


def described_plot(plot) -> messages.Plot:
    """A plot as plain data, its points rounded to what the screen shows."""
    return {
        "x": {"words": plot.x_words, "unit": plot.x_unit, "ticks": list(plot.x_ticks)},
        "y": {"words": plot.y_words, "unit": plot.y_unit, "ticks": []},
        "lines": [
            {"name": line.name, "colour": line.colour, "points": [_described_point(*point) for point in line.points]} for line in plot.lines
        ],
    }


def _described_point(x: float, y: float) -> list[float | None]:
    return [float(f"{x:.4g}"), None if math.isnan(y) else float(f"{y:.4g}")]


def described(scene) -> messages.Scene:
    """Everything about a scene that does not change while it runs, as plain data."""
    return {
        "name": scene.name,
        "title": scene.title,
        "principle": scene.principle,
        "caution": scene.caution,
        "leaves_out": list(scene.leaves_out),
        "narration": scene.narration,
        "controls": [described_control(control) for control in scene.controls],
        "views": [
            {
                "name": view.name,
                "words": view.words,
                "forward": view.forward,
                "up": view.up,
                "directions": [{"words": words, "axis": axis} for words, axis in view.directions.axes()],
            }
            for view in scene.views
        ],
        "arrows": [{"letter": key.letter, "words": key.words, "colour": key.colour, "unit": key.unit} for key in scene.arrows],
        "chart": described_chart(scene.chart),
        "questions": [{"value": kind.name, "words": kind.words} for kind in scene.kinds],
    }


def described_control(control) -> messages.Control:
    """A control as plain data."""
    data: messages.Control = {
        "name": control.name,
        "words": control.words,
        "unit": control.unit,
        "kind": control.kind,
        "role": control.role,
        "default": control.default,
        "only_with": list(control.only_with) if control.only_with else None,
    }
    if control.kind == "number":
        data |= {"low": control.low, "high": control.high, "step": control.step}
    if control.kind == "choice":
        data["choices"] = [{"value": value, "words": words} for value, words in control.choices]
        if control.other:
            data["other"] = control.other
    return data


def described_view(scene) -> messages.View:
    """Where the eye of a scene is, what shall fill the picture, and which letters come first, as plain data."""
    view = scene.eye
    return {
        "name": view.name,
        "forward": view.forward,
        "up": view.up,
        "subject": view.subject or scene.subject,
        "upright": None,
        "directions": view.directions.axes(),
        "letters": view.letters or scene.letters,
    }


def described_picks(scene, reveals_answer: bool) -> list[messages.Pick]:
    """What may be pressed in the picture, as plain data."""
    return [
        {
            "name": pick.name,
            "words": pick.words,
            "at": pick.at,
            "alone": pick.alone,
            "on": None if pick.on is None else pick.on.drawn.idx,
        }
        for pick in scene.picks_now(reveals_answer)
    ]


def described_spots(question: Question) -> list[messages.Pick]:
    """What may be pressed for a question that says itself where its answers are."""
    return [{"name": value, "words": question.words_of(value), "at": at, "alone": True, "on": None} for value, at in question.spots]


def described_readings(readings: list[Reading], reveals_answer: bool, first: Sequence[str] = ()) -> list[messages.Reading]:
    """Readings as plain data, those named in `first` before the others. These are in sight, and so many more that there
    are three; without `first`, the scene's first four. A fold with one reading alone is not worth its line."""
    places = {name: place for place, name in reversed(list(enumerate(first)))}
    ordered = sorted(readings, key=lambda reading: places.get(reading.name, len(places)))
    shown = max(LEAST, sum(reading.name in places for reading in readings)) if first else USUAL
    if len(ordered) == shown + 1:
        shown += 1
    return [_described_reading(reading, reveals_answer, place < shown) for place, reading in enumerate(ordered)]


def _described_reading(reading: Reading, reveals_answer: bool, first: bool) -> messages.Reading:
    """A reading as plain data, without its figure if that gives an answer away that must not be seen."""
    hidden = reading.tells and not reveals_answer
    return {
        "symbol": reading.symbol,
        "words": reading.words,
        "value": "?" if hidden else reading.value,
        "unit": reading.unit,
        "formula": "" if hidden else reading.formula,
        "first": first,
    }


def described_mark(mark: Mark) -> messages.Mark:
    """A marker on a plot as plain data; y is None for a vertical line."""
    return {"name": mark.name, "colour": mark.colour, "x": mark.x, "y": None if math.isnan(mark.y) else mark.y}


def described_chart(chart: Chart | None) -> messages.ChartAxes | None:
    """A chart's axes and lines as plain data."""
    if chart is None:
        return None
    below: messages.ChartBelow | None = None
    if chart.below is not None:
        words, unit, lines = chart.below
        below = {"words": words, "unit": unit, "series": [{"name": name, "colour": colour} for name, colour in lines]}
    series: list[messages.Series] = [{"name": name, "colour": colour} for name, colour in chart.series]
    return {"words": chart.words, "unit": chart.unit, "seconds": chart.seconds, "series": series, "below": below}
