"""A scene, its controls and its curves as plain data: for the page, the command line and JSON."""

from __future__ import annotations


def described_plot(plot) -> dict:
    """A plot as plain data, its points rounded to what the screen shows."""
    return {
        "x": {"words": plot.x_words, "unit": plot.x_unit},
        "y": {"words": plot.y_words, "unit": plot.y_unit},
        "lines": [
            {"name": line.name, "colour": line.colour, "points": [[float(f"{x:.4g}"), float(f"{y:.4g}")] for x, y in line.points]}
            for line in plot.lines
        ],
    }


def described(scene) -> dict:
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
        "chart": None
        if scene.chart is None
        else {
            "words": scene.chart.words,
            "unit": scene.chart.unit,
            "seconds": scene.chart.seconds,
            "series": [{"name": name, "colour": colour} for name, colour in scene.chart.series],
            "below": None
            if scene.chart.below is None
            else {
                "words": scene.chart.below[0],
                "unit": scene.chart.below[1],
                "series": [{"name": name, "colour": colour} for name, colour in scene.chart.below[2]],
            },
        },
    }


def described_control(control) -> dict:
    """A control as plain data."""
    data = {
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
    return data
