"""The order of the tests, and what each leaves behind for the next.

What drives a browser comes last, for it leaves an event loop behind that others would trip over. Before that the files that
take longest come first, so that of the processes that share them none waits long for the others at the end.
"""

from __future__ import annotations

import gc
import os
import signal
import sys
from pathlib import Path

import hypothesis
import pytest

TAKE_LONG = (
    "test_lesson", "test_for_everyone", "test_page", "test_every_scene", "test_every_drive", "test_stand_soak", "test_share",
    "test_drawn", "test_exhibit", "test_standing", "test_picture", "test_practice", "test_practice_page", "test_tours",
    "test_without_mouse_or_picture", "test_prepare", "test_behind_a_proxy", "test_soak", "test_takehome_scenes", "test_stand",
    "test_inside_a_motor", "test_speed_scenes", "test_takehome", "test_handout_print", "test_checked", "test_while_a_question_waits",
    "test_worksheet", "test_abuse", "test_usual_plates", "test_killed", "test_captions", "test_command_line",
    "test_synchronous_motor", "test_starter", "test_visitors", "test_coils_and_commutator", "test_starting", "test_house",
    "test_cage_rotor", "test_frame", "test_symbols", "test_starting_scene", "test_every_control",
)  # fmt: skip


# A run of all tests draws the same examples each time, so that it says something of the change; others with THUMBWISE_CHANCE=1.
hypothesis.settings.register_profile("steady", derandomize=True)
if "THUMBWISE_CHANCE" not in os.environ:
    hypothesis.settings.load_profile("steady")

OF_ALL_SCENES = (
    "test_every_caption_is_looked_at", "test_every_typed_kind_has_such_a_calculation", "test_every_scene_has_its_reasons_judged_somewhere",
    "test_the_built_in_lesson_covers_every_scene_in_order", "test_every_meaning_has_its_words_here",
    "test_every_scene_lists_at_least_five_kinds", "test_every_scene_that_holds_out_a_hand_is_looked_at",
    "test_no_caption_depends_on_where_one_looks_from", "test_every_topic_has_an_example",
    "test_every_scene_on_a_conductor_has_its_answer_worked_out_here", "test_of_every_scene_a_reading_is_worked_out_again",
)  # fmt: skip  # which ask something of each scene without its name in theirs


def pytest_addoption(parser):
    parser.addoption("--scene", metavar="NAME", help="only the tests that try the scene of that name, as those of a new one")


def pytest_configure(config):
    """A run that is told to end is interrupted as by Ctrl+C, so that the fixtures end what they started."""
    signal.signal(signal.SIGTERM, signal.default_int_handler)
    if hasattr(config.option, "loadscopereorder"):
        config.option.loadscopereorder = False  # of several processes: they are handed the files in the order made here


def pytest_ignore_collect(collection_path, config):
    """With `--scene`, what tries no scene unless it names it is not imported, which takes half of the time."""
    if not (name := config.option.scene) or collection_path.suffix != ".py":
        return None
    folder = collection_path.relative_to(Path(__file__).parent).parts[:2]
    if folder[0] == "physics" or folder == ("visual", "host"):
        text = f"{collection_path}\n{collection_path.read_text('utf-8')}"
        return None if name in text or name.replace("-", "_") in text else True
    return True if folder[0] == "browser" and config.option.markexpr == "not browser" else None


def pytest_collection_modifyitems(config, items):
    def turn(item) -> tuple[bool, int]:
        file = Path(item.fspath)
        return "browser" in file.parts, TAKE_LONG.index(file.stem) if file.stem in TAKE_LONG else len(TAKE_LONG)

    items.sort(key=turn)
    if name := config.option.scene:
        tried = [item for item in items if name in item.name or name.replace("-", "_") in item.nodeid or item.name in OF_ALL_SCENES]
        config.hook.pytest_deselected(items=[item for item in items if item not in set(tried)])
        items[:] = tried


@pytest.fixture(autouse=True, scope="module")
def what_stays_is_set_aside():
    """What is imported, drawn and kept by now is never free: to search it for garbage takes a third of a second each time."""
    gc.collect()
    gc.freeze()


@pytest.fixture(autouse=True)
def nothing_left_over():
    """VPython's buffers belong to the whole process: what an earlier test drew and nobody fetched is not this one's."""
    if "visual.host.bridge" in sys.modules:
        sys.modules["visual.host.bridge"].vpython.baseObj.initialize()
