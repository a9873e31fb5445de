"""Every control of every scene does something: what is drawn or read is no longer the same."""

from __future__ import annotations

import contextlib

import numpy as np
import pytest

from scenes import catalogue
from scenes.scene.question import Question
from scenes.scene.scene import ONE_STEP
from scenes.scene.state import as_data, reached
from visual.host.bridge import ObjectStream

# how fast it is shown, what a question is about, and what is noticed only when the starter changes over
SEEN_LATER = ("slow", "asked", "asked-starter", "sticks", "wound")
NOT_LOOKED_AT = Question("", (), "", "")  # to answer one may take a whole run


@pytest.mark.parametrize("name", catalogue.NAMES)
def test_every_control_changes_what_is_read_or_drawn(name):
    scene, stream = catalogue.scene_class(name)(), ObjectStream()
    scene.ensure_built(stream)
    scene.question = lambda: NOT_LOOKED_AT
    controls = {each.name: each for each in scene.controls}
    assert shown(scene, stream) == shown(scene, stream), "it is not the same each time"
    for control in scene.controls:
        if control.name in SEEN_LATER:
            continue
        scene.set_all({other.name: other.default for other in scene.controls} | needed_for(control, controls))
        before = shown(scene, stream)
        assert any(after(scene, stream, control, value) != before for value in other_values(control)), f"{control.name} changes nothing"


def shown(scene, stream) -> dict:
    """What is drawn, read and plotted after one step, but for the settings themselves."""
    data = as_data(reached(scene, ONE_STEP / scene.slowness), 0.0)
    said = {part: said for part, said in data.items() if part not in ("settings", "question")}
    stream.drain()
    plot = scene.plot(True)
    lines = [(line.name, np.asarray(line.points).tobytes()) for line in plot.lines] if plot else []
    return said | {"drawn": dict(stream.attributes), "lines": lines, "marks": repr(scene.marks())}


def needed_for(control, controls: dict) -> dict:
    """What must be set for the control to matter, and for that to matter."""
    if not control.only_with:
        return {}
    name, value = control.only_with
    own_plate = {"plate": "400/690"} if value == "starter" else {}  # with the usual one it stays locked off
    return needed_for(controls[name], controls) | own_plate | {name: value}


def after(scene, stream, control, value) -> dict:
    """What is shown with another value of one control, or would be but for what the other figures of a nameplate say."""
    with contextlib.suppress(ValueError):
        scene.set_all({control.name: value})
    return shown(scene, stream)


def other_values(control) -> list:
    if control.kind == "number":
        return [value for value in (control.low, control.high, control.default + control.step) if value != control.default]
    if control.kind == "choice":
        return [value for value, _ in control.choices if value != control.default]
    return [not control.default]
