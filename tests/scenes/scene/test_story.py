"""A scene's functions are found in its modules; what is missing is said where the scene is written."""

from __future__ import annotations

from types import ModuleType

import pytest

from scenes.scene.story import Story

WRITTEN = """
from math import floor as sentence  # imported, not the scene's own

class Setup:
    @classmethod
    def of(cls, settings): return settings["current"]

def observe(setup, state): return (setup, state)
def build(host): return None
def place(drawn, now, look): return None
def readings(now, look): return [now]
def question(now, look): return None
def random_setup(random): return {}
"""


def module(text: str) -> ModuleType:
    made = ModuleType("written")
    exec(text, made.__dict__)
    return made


def test_what_a_scene_lacks_is_named_and_what_a_module_only_imports_is_not_its_own():
    with pytest.raises(TypeError, match=r"small lacks sentence; .*story\.py"):

        class Small(Story, parts=(module(WRITTEN),)):
            name = "small"


def test_a_method_of_its_own_counts_and_a_scene_without_a_state_stays_as_it_is():
    class Small(Story, parts=(module(WRITTEN),)):
        name = "small"

        def sentence(self, now, look) -> str:
            return self.name

        def observe(self, setup, state):
            return (self.name, setup, state)

    scene = object.__new__(Small)
    setup = scene.setup_of({"current": 3.0})
    state = scene.advance(setup, scene.begin(setup), 2.0)
    assert scene.observe(setup, state) == ("small", 3.0, None) and scene.readings_of("now", None) == ["now"]
