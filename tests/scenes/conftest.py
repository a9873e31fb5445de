"""What a scene draws takes up to half a second to make, so a process keeps it for the next scene of that kind.

That scene's host is given the same names and commands as the first, as if everything had just been made. A file whose tests look at what
making does has a fixture `made_once` of its own that does nothing.
"""

from __future__ import annotations

import gc
import weakref
from collections import defaultdict
from dataclasses import dataclass
from typing import Any

import pytest

from scenes.exhibit.subjects import leave_out_stamps
from scenes.marked.papers import Papers
from scenes.scene.scene import Scene
from tests.made_once import made_anew
from visual.host.bridge import CHANGES, vpython
from visual.host.server import Host


@dataclass
class Made:
    """What one scene draws; `names` and `commands` are those that its host was given, `owner` refers to the scene that has it now."""

    drawn: Any
    names: list[tuple[str, Any]]
    commands: list[dict]
    owner: weakref.ref

    def name(self, name: str, drawn: Any) -> None:
        self.names.append((name, drawn))


KEPT: dict[object, list[Made]] = defaultdict(list)  # by the kind of scene


def ensure_built(scene: Scene, host) -> None:
    """In place of the scene's own."""
    if scene.drawn is None:
        kept = KEPT[type(scene), type(scene).build]
        made = free(kept)
        if made is None:
            made = Made(None, [], [], weakref.ref(scene))
            waiting = len(vpython.baseObj.updates["cmds"])
            made.drawn = scene.build(made)
            made.commands = vpython.baseObj.updates["cmds"][waiting:]
            kept.append(made)
        else:
            made.drawn.visible = True
            leave_out_stamps(made.drawn, False)  # as an exhibit has
            objects = vpython.baseObj.object_registry
            vpython.baseObj.updates["cmds"] += made.commands
            vpython.baseObj.attrs |= {
                (each["idx"], name) for each in made.commands for name in CHANGES if hasattr(objects[each["idx"]], name)
            }
        made.owner = weakref.ref(scene)
        scene.drawn = made.drawn
        for name, drawn in made.names:
            host.name(name, drawn)


def free(kept: list[Made]) -> Made | None:
    """One of those whose scene is gone, if there is one."""
    if kept and all(made.owner() for made in kept):
        gc.collect()  # a bench and its host refer to each other; of earlier files nothing is searched (see tests/conftest.py)
    return next((made for made in kept if made.owner() is None), None)


@pytest.fixture(autouse=True, scope="module")
def made_once():
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(Scene, "ensure_built", ensure_built)
        yield


@pytest.fixture(scope="module")
def papers():
    """Of tests and of practice for many, with the scenes built once: that takes longer than most tests of them."""
    with pytest.MonkeyPatch.context() as patch:
        made_anew(patch)
        yield Papers(Host())
