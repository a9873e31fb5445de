"""A lesson being made: each change is read as it will be when the file is opened, can be undone, and is refused in a sentence where the
lesson could not be read any more."""

from __future__ import annotations

import tomllib

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from scenes.lesson.draft import MOST_CHANGES, Draft, typed_question
from scenes.lesson.lesson import MOST_MINUTES, read
from scenes.lesson.pictures import Pictures

TEXT = '# mine\ntitle = "t"\n\n[[step]]\nscene = "pushed-conductor"\n\n[[step]]\ntitle = "A page"\n'
ROD, PAGE = 0, 1


@pytest.fixture
def draft(tmp_path):
    return Draft(TEXT, "m.toml", Pictures(tmp_path / "m.toml"))


def number(draft: Draft, place: int) -> int:
    return draft.document.parts[place].number


def steps(draft: Draft) -> list[dict]:
    """What the text says, read with Python's own reader."""
    return tomllib.loads(draft.document.text)["step"]


def test_every_change_is_undone_and_made_again_sixty_times(draft):
    texts = [draft.document.text]
    for count in range(60):
        draft.type(number(draft, count % 2), "notes", f"Say: {count}")
        texts.append(draft.document.text)
    assert len(set(texts)) == 61
    for text in reversed(texts[:-1]):
        draft.undo()
        assert draft.document.text == text and draft.lesson == read(text, "m.toml")
    assert not draft.can_undo
    with pytest.raises(ValueError, match="no change left to undo"):
        draft.undo()
    for text in texts[1:]:
        draft.redo()
        assert draft.document.text == text
    assert not draft.can_redo
    with pytest.raises(ValueError, match="no undone change"):
        draft.redo()


def test_what_can_be_undone_is_bounded_and_a_new_change_ends_what_could_be_made_again(draft):
    for count in range(MOST_CHANGES + 10):
        draft.type(number(draft, ROD), "caption", f"caption {count}")
    for _ in range(MOST_CHANGES):
        draft.undo()
    assert not draft.can_undo and steps(draft)[ROD]["caption"] == "caption 9"
    draft.type(number(draft, ROD), "caption", "another")
    assert not draft.can_redo


def test_steps_are_moved_copied_and_taken_out(draft):
    rod = number(draft, ROD)
    draft.copy(rod)
    draft.type(rod, "caption", "the first")
    draft.move(rod, 2)
    assert [step.get("caption", step.get("title", "the copy")) for step in steps(draft)] == ["the copy", "A page", "the first"]
    draft.move(rod, 99)
    draft.move(number(draft, 0), -5)
    assert [step.caption for step in draft.lesson.steps] == ["", "", "the first"]
    draft.remove(number(draft, 1))
    assert [step.scene for step in draft.lesson.steps] == ["pushed-conductor"] * 2
    draft.remove(rod)
    with pytest.raises(ValueError, match="keeps at least one step"):
        draft.remove(number(draft, 0))
    with pytest.raises(ValueError, match="not in the lesson any more"):
        draft.copy(rod)


def test_the_file_says_its_version_as_soon_as_it_is_changed(draft):
    draft.called("Motors")
    assert draft.document.text.startswith('# mine\nversion = 2\ntitle = "Motors"\n')


WRONG = [
    ("caption", "x" * 121, "A caption may have at most 120 characters, not 121."),
    ("caption", 5, "A caption must be text, not 5."),
    ("notes", "a\x07b", "The notes cannot hold U+0007, a control character that no page shows; take it out."),
    ("notes", "\ud800", "U+D800"),
    ("notes", "x" * 5001, "at most 5000 characters"),
    ("minutes", -1, f"The minutes planned are from 0 to {MOST_MINUTES}."),
    ("minutes", float("inf"), "are from 0 to"),
    ("minutes", 10**4000, "are from 0 to"),
    ("minutes", True, "take a number, not True"),
    ("minutes", "5", "take a number, not '5'"),
    ("hold", "yes", "takes true or false, not 'yes'"),
    ("question", 7, "A step asks none or the scene's question"),
    ("scene", "starting", "Of a step one can change caption,"),
    ("title", "T", "Title belongs to a page, which is a step without a scene."),
    ("picture", "none.png", "Picture belongs to a page"),
]


@pytest.mark.parametrize(("name", "value", "said"), WRONG)
def test_what_cannot_be_kept_is_told_and_changes_nothing(draft, name, value, said):
    with pytest.raises(ValueError) as wrong:
        draft.type(number(draft, ROD), name, value)
    assert said in str(wrong.value) and len(str(wrong.value)) < 300 and "m.toml" not in str(wrong.value)
    assert draft.document.text == TEXT and not draft.can_undo


def test_a_page_keeps_something_on_it_and_asks_no_demonstration(draft):
    page = number(draft, PAGE)
    for name, value, said in (
        ("title", "  ", "needs a scene, or else a title, a text or a picture"),
        ("question", "scene", "A page has no set-up to ask about"),
        ("hold", True, "Hold belongs to a step with a scene."),
        ("picture", "../x.png", "beside the lesson"),
    ):
        with pytest.raises(ValueError, match=said):
            draft.type(page, name, value)
    assert draft.document.text == TEXT


def test_what_is_said_already_changes_nothing(draft):
    draft.type(number(draft, PAGE), "title", " A  page ")
    draft.type(number(draft, ROD), "hold", False)
    assert draft.document.text == TEXT and not draft.can_undo


def test_what_is_as_usual_is_not_written(draft):
    rod = number(draft, ROD)
    for name, value in (("hold", True), ("answers", False), ("go_on", True), ("minutes", 2.5), ("question", "scene"), ("notes", "Say: so")):
        draft.type(rod, name, value)
    assert steps(draft)[ROD] == {
        "scene": "pushed-conductor", "hold": True, "answers": False, "go_on": True, "minutes": 2.5, "question": True, "notes": "Say: so",
    }  # fmt: skip
    for name, value in (("hold", False), ("answers", True), ("go_on", False), ("minutes", None), ("question", "none"), ("notes", "\n ")):
        draft.type(rod, name, value)
    assert steps(draft)[ROD] == {"scene": "pushed-conductor"}


def test_a_vote_goes_with_its_question(draft):
    rod = number(draft, ROD)
    with pytest.raises(ValueError, match="Vote needs a question in the same step"):
        draft.type(rod, "vote", True)
    draft.type(rod, "question", "scene")
    draft.type(rod, "vote", True)
    assert draft.lesson.steps[ROD].vote
    draft.type(rod, "question", "none")
    assert steps(draft)[ROD] == {"scene": "pushed-conductor"}


@settings(max_examples=60, deadline=None, derandomize=True)
@given(
    st.text(st.characters(exclude_categories=("Cc", "Cs")) | st.sampled_from('\n\t"\\'), max_size=100),
    st.text(st.characters(exclude_categories=("Cc", "Cs")) | st.sampled_from('"\\'), max_size=60),
)
def test_whatever_is_typed_is_read_as_it_was_typed_but_for_spaces_at_the_ends(notes, caption):
    draft = Draft(TEXT, "m.toml", None)
    draft.type(number(draft, ROD), "notes", notes)
    draft.type(number(draft, ROD), "caption", caption)
    step = read(draft.document.text, "m.toml").steps[ROD]
    assert step.notes.strip("\n") == "\n".join(line.rstrip() for line in notes.split("\n")).strip("\n")
    assert step.caption == " ".join(caption.split())


def test_a_question_of_ones_own_is_put_as_it_was_typed(draft):
    table = typed_question("Which  end\nis live?", "\n the left \nthe right\n", 2.0, "It is\nmarked.")
    for place in (ROD, PAGE):
        draft.say(number(draft, place), question=table)
        question = draft.lesson.steps[place].question
        assert question.text == "Which end is live?" and question.choices == (("1", "the left"), ("2", "the right"))
        assert question.answer == "2" and question.reason == "It is\nmarked.\n"
    draft.type(number(draft, ROD), "question", "none")
    assert draft.lesson.steps[ROD].question is False


@pytest.mark.parametrize(
    ("text", "choices", "right", "reason", "said"),
    [
        ("", "a\nb", 1, "", "Text of a question is needed"),
        ("x" * 301, "a\nb", 1, "", "The question may have at most 300 characters"),
        ("t", "a", 1, "", "Choices of a question are from 2 to 6, no two alike."),
        ("t", "a\na", 1, "", "no two alike"),
        ("t", "\n".join("abcdefg"), 1, "", "from 2 to 6"),
        ("t", "a\n" + "b" * 121, 1, "", "A choice may have at most 120 characters"),
        ("t", "a\nb", 0, "", "Right takes the number of the right choice, from 1 to 2, not 0."),
        ("t", "a\nb", 3, "", "from 1 to 2, not 3"),
        ("t", "a\nb", float("inf"), "", "from 1 to 2, not 0"),
        ("t", "a\nb", 1, "x" * 601, "The reason may have at most 600 characters"),
    ],
)
def test_a_question_that_is_not_whole_is_told(draft, text, choices, right, reason, said):
    with pytest.raises(ValueError) as wrong:
        draft.say(number(draft, ROD), question=typed_question(text, choices, right, reason))
    assert said in str(wrong.value)
    assert draft.document.text == TEXT


def test_what_was_written_elsewhere_is_taken_and_can_be_undone(draft):
    rod, page = number(draft, ROD), number(draft, PAGE)
    draft.read_anew(TEXT.replace("A page", "Another page"))
    assert draft.lesson.steps[PAGE].title == "Another page"
    assert number(draft, ROD) == rod and number(draft, PAGE) != page
    with pytest.raises(ValueError, match="m.toml, line 4: "):
        draft.read_anew(TEXT.replace("[[step]]", "[[step]"))
    assert draft.lesson.steps[PAGE].title == "Another page"
    draft.undo()
    assert draft.document.text == TEXT
