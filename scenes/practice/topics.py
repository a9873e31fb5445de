"""The scenes that belong to a topic which somebody names."""

from __future__ import annotations

import re
from collections.abc import Iterable

from scenes import catalogue
from scenes.names import no_such
from scenes.scene.scene import Scene

SHORTEST_TOPIC = 3  # letters


def scenes_of(topic: str | None) -> tuple[str, ...]:
    """The scenes that belong to a topic: the one of that name, or those of whose names every word of it is one, as "slip" is; or else
    all in whose name, title or principle every word of it begins a word, as "push" and "left hand" do; every scene for `None`.
    `ValueError` with the nearest if there is none."""
    if topic is None or topic in catalogue.NAMES:
        return catalogue.NAMES if topic is None else (topic,)
    wanted = _words(topic)
    found = [
        scene.name for scene in catalogue.LESSON
        if wanted and all(any(word.startswith(part) for word in _words_of(scene)) for part in wanted)
    ]  # fmt: skip
    found = [name for name in found if set(wanted) <= set(_words(name.replace("-", " ")))] or found
    if found and min(map(len, wanted)) >= SHORTEST_TOPIC:
        return tuple(found)
    raise ValueError(no_such("topic", topic, catalogue.NAMES))


def _words(text: str) -> list[str]:
    return re.findall(r"\w+", text.lower())


def _words_of(scene: type[Scene]) -> Iterable[str]:
    return _words(f"{scene.name} {scene.title} {scene.principle}")
