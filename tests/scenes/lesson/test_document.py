"""A lesson's text taken apart, changed and put together again. What is written is read back with Python's own TOML reader."""

from __future__ import annotations

import tomllib

import pytest
from hypothesis import example, given, settings
from hypothesis import strategies as st

from scenes.lesson.document import Document, Part
from scenes.lesson.lesson import built_in
from scenes.lesson.toml_text import statement, step_text

MINE = """# my lesson
# of two parts

version = 2 # the format
title = "Motors"

# first a rod
[[step]]
scene = "pushed-conductor"
# eight amperes
settings = { current = 8 } # not more
caption = "A rod"

# Part two

# then a coil
[[step]]
scene = "starting"
[step.question]
text = "What now?"
choices = ["this", "that"]
right = 1

[[step]]
scene = "cage-rotor"
# the end
"""
ROD, COIL, CAGE = range(3)
any_text = st.text(st.characters(exclude_categories=("Cs",)), max_size=60) | st.text('"\\\n\t\x00 ab', max_size=30)
any_value = st.booleans() | st.integers(-(10**12), 10**12) | st.floats(allow_nan=False, allow_infinity=False) | any_text


@settings(max_examples=150, deadline=None, derandomize=True)
@given(any_text, any_text, st.dictionaries(any_text, any_value, max_size=4), st.lists(any_text, max_size=4), st.booleans())
@example('Three """ on a line\nand one more', '\n""""', {}, [], False)
def test_whatever_a_step_says_is_read_as_it_was_written(caption, notes, set_up, choices, asks):
    step = {"scene": "x", "settings": set_up, "caption": caption, "notes": notes, "readings": choices, "minutes": 2.5}
    step |= {"question": {"text": notes, "choices": choices, "right": 1}} if asks else {"question": True}
    assert tomllib.loads(step_text(step)) == {"step": [step]}


@settings(max_examples=100, deadline=None, derandomize=True)
@given(any_text)
def test_whatever_a_title_says_is_read_as_it_was_written(title):
    assert tomllib.loads(statement("title", title)) == {"title": title}
    document = Document.of(MINE).headed("title", title)
    assert tomllib.loads(document.text) == tomllib.loads(MINE) | {"title": title}


def test_what_is_taken_apart_is_the_same_put_together():
    for text in (
        MINE,
        built_in(),
        MINE.replace("\n\n", "\n"),
        '[[step]]\nscene = "starting"\n',
        MINE.replace('"Motors"', "'''\n[[step]]\n'''"),
    ):
        document = Document.of(text)
        assert document.text == text
        assert [part.given for part in document.parts] == tomllib.loads(text)["step"]


def test_a_step_that_is_changed_leaves_the_others_as_they_were_and_loses_no_line_of_comment():
    document = Document.of(MINE)
    changed = document.changed(ROD, document.parts[ROD].given | {"caption": "A rod in a field"})
    assert changed.text == MINE.replace(
        '# first a rod\n[[step]]\nscene = "pushed-conductor"\n# eight amperes\nsettings = { current = 8 } # not more\ncaption = "A rod"\n',
        '# first a rod\n# eight amperes\n[[step]]\nscene = "pushed-conductor"\nsettings = { current = 8 }\ncaption = "A rod in a field"\n',
    )
    again = document.changed(COIL, document.parts[COIL].given)
    assert again.text == MINE, "a step in our own hand is written as it stands"


def test_a_step_is_moved_with_the_comments_before_it():
    document = Document.of(MINE)
    moved = document.without(ROD).inserted(COIL, document.parts[ROD])
    scenes = [part.given["scene"] for part in moved.parts]
    assert scenes == ["starting", "pushed-conductor", "cage-rotor"]
    assert [step["scene"] for step in tomllib.loads(moved.text)["step"]] == scenes
    assert moved.text.index("# then a coil\n[[step]]") < moved.text.index("\n\n# first a rod\n[[step]]") < moved.text.index("# the end")
    assert sorted(moved.text.split("\n")) == sorted(MINE.split("\n")), "every line is still there"
    assert [part.number for part in moved.parts] == [document.parts[place].number for place in (COIL, ROD, CAGE)]


def test_a_step_is_added_and_taken_out():
    document = Document.of(MINE)
    new = Part.new({"title": "A page"})
    added = document.inserted(1, new)
    assert 'caption = "A rod"\n\n[[step]]\ntitle = "A page"\n\n# Part two' in added.text
    assert added.place(new.number) == 1 and added.without(1).text == MINE
    with pytest.raises(ValueError, match="not in the lesson any more"):
        document.place(new.number)


def test_the_head_takes_a_title_and_a_version_whether_they_were_there_or_not():
    document = Document.of(MINE)
    assert document.headed("title", "Coils").text == MINE.replace('"Motors"', '"Coils"')
    assert document.headed("version", 2).text == MINE.replace("2 # the format", "2")
    bare = '[[step]]\nscene = "starting"\n'
    assert Document.of(bare).headed("title", "t").headed("version", 2).text == 'version = 2\ntitle = "t"\n' + bare
    assert Document.of("# mine\n\n" + bare).headed("title", "t").text == '# mine\n\ntitle = "t"\n' + bare


def test_steps_written_in_another_way_are_written_anew():
    text = '# lost\ntitle = "t"\nstep = [{ scene = "starting" }, { title = "a page" }]\n'
    document = Document.of(text)
    assert document.text == 'title = "t"\n\n[[step]]\nscene = "starting"\n\n[[step]]\ntitle = "a page"\n'


def test_a_text_that_was_changed_elsewhere_keeps_the_numbers_of_the_steps_that_were_not():
    document = Document.of(MINE)
    other = Document.of(MINE.replace('scene = "starting"', 'scene = "starting"\nhold = true')).numbered_as(document)
    numbers = [part.number for part in document.parts]
    assert [part.number == number for part, number in zip(other.parts, numbers, strict=True)] == [True, False, True]
