"""What a bench and its sentences are like whatever was sent."""

from __future__ import annotations

import json
import re

from scenes.bench.bench import Bench

OURS = re.compile(r"Traceback|NoneType|<class|object at|set_int|codec|recursion|datetime\.")
LONGEST_SENTENCE = 500  # characters: a scene's controls are all named where one of them is not known


def is_a_sentence(text: str) -> None:
    assert len(text) <= LONGEST_SENTENCE and len(text.splitlines()) == 1 and text[-1] in ".?", text[:600]
    assert not OURS.search(re.sub(r"'[^']*'|\"[^\"]*\"", "", text)), text  # in quotes stands what was sent


def is_sound(bench: Bench) -> None:
    """What the pages are told is whole, every figure is finite or words, and the scene is set as it can be."""
    said = bench.host.published
    json.dumps([said, bench.host.published_to, list(bench.host.chart.points)], allow_nan=False)
    for reading in said["readings"]:
        assert not re.search(r"\b(nan|inf)\b", f"{reading['value']} {reading['formula']}"), reading
    scene = bench.scene
    assert {name: control.checked(scene[name]) for name, control in scene.by_name.items()} == scene.settings
    assert scene.view in [view.name for view in scene.views]
    if text := said.get("notice", {}).get("text"):
        is_a_sentence(text)
