"""A lesson made on the bench: what stands there becomes a step, and the class is told nothing of it."""

from __future__ import annotations

import json
import tomllib

from scenes.lesson.draft import Draft
from scenes.lesson.lesson_bench import SPEAKER
from scenes.lesson.prepare_bench import PrepareBench
from tests.scenes.lesson.desk import BEGUN
from visual.host.server import Host
from visual.host.viewers import Viewer


def test_the_clock_waits_while_the_lesson_is_made_and_begins_when_it_is_given(desk):
    def clock() -> tuple[bool, int]:
        desk.a_second_later()
        desk.bench.show_state()
        told = desk.bench.host.published_to[SPEAKER]["clock"]
        return told["runs"], told["lesson"]

    desk.does("add", page=True)
    desk.does("previous")
    desk.does("scene", name="starting")
    assert clock() == (False, 0)
    desk.does("prepare", on=False)
    assert clock() == (False, 0)
    desk.does("next")
    assert clock() == (True, 1)
    desk.does("prepare", on=True)
    assert clock() == (True, 2), "a word is changed on the way"


def test_what_stands_on_the_bench_becomes_a_step(desk):
    desk.does("scene", name="pushed-conductor")
    desk.does("set", name="current", value=-8)
    desk.does("set", name="field", value="down")
    desk.does("view", name="side")
    desk.does("answers", shown=False)
    assert desk.bench.host.published["step"]["caption"].startswith("Not yet a step")
    desk.does("add")
    assert desk.bench.host.published["step"]["caption"] == ""
    assert desk.in_the_file()["step"][1] == {
        "scene": "pushed-conductor", "settings": {"current": -8, "field": "down"}, "view": "side", "answers": False,
    }  # fmt: skip
    bench = desk.bench
    assert bench.place == 1 and bench.scene["current"] == -8 and bench.scene.view == "side" and not bench.answers_shown
    desk.does("scene", name="moved-conductor")
    desk.does("add")
    assert desk.in_the_file()["step"][2] == {"scene": "moved-conductor"}, "what is as usual is not written"
    desk.does("ask", present=True)
    desk.does("add")
    assert desk.in_the_file()["step"][3] == {"scene": "moved-conductor", "question": True}
    assert bench.prediction.waiting, "it stands there as the class will have it"


def test_opened_again_a_lesson_begins_with_its_first_step_and_goes_on_where_one_left_off_when_it_was_being_given(desk):
    desk.does("scene", name="pushed-conductor")
    desk.does("add")
    assert len(desk.in_the_file()["step"]) == 2
    for prepared, comes_up_at in ((True, 0), (False, 1)):
        desk.does("prepare", on=prepared)
        address = desk.bench.host.published["address"]  # that a page left open brings along to the next run of the program
        again = PrepareBench(Host(), Draft(desk.path.read_text("utf-8"), str(desk.path), desk.file.pictures), desk.file)
        again.receive({"do": "open", "address": address, "run": desk.bench.run_word})
        assert again.place == comes_up_at


def test_a_step_is_given_the_set_up_that_stands_on_the_bench_and_keeps_what_it_says(desk):
    desk.does("scene", name="pushed-conductor")
    desk.does("add")
    number = desk.here
    desk.does("change", number=number, name="caption", value="A rod")
    desk.does("change", number=number, name="question", value="scene")
    desk.does("enough")
    desk.does("set", name="current", value=3)
    desk.does("arrange", number=number, how="set-up")
    assert desk.in_the_file()["step"][1] == {
        "scene": "pushed-conductor", "settings": {"current": 3}, "caption": "A rod", "question": True,
    }  # fmt: skip
    desk.does("arrange", number=desk.told["steps"][0]["number"], how="show")
    assert "covers the bench" in desk.send("arrange", number=number, how="set-up")
    assert "covers the bench" in desk.send("add")


def test_the_list_and_the_fields_are_those_of_the_lesson(desk):
    desk.does("scene", name="starting")
    desk.does("add")
    desk.does("change", number=desk.here, name="minutes", value=3)
    desk.does("own", number=desk.here, text="Why?", choices="a\nb", right=2, reason="So.")
    page, step = desk.told["steps"]
    assert page | {"number": 0} == {"number": 0, "words": "Motors", "scene": "", "asks": "", "minutes": 0}
    assert step["asks"] and step["minutes"] == 3 and step["number"] != page["number"]
    assert desk.told["here"]["asks"] == "own" and desk.told["here"]["own"] == {
        "text": "Why?",
        "choices": "a\nb",
        "right": 2,
        "reason": "So.",
    }
    desk.does("arrange", number=step["number"], how="up")
    assert [each["number"] for each in desk.told["steps"]] == [step["number"], page["number"]] and desk.bench.place == 0
    assert "A step is arranged by" in desk.send("arrange", number=step["number"], how="sideways")
    assert "not in the lesson any more" in desk.send("arrange", number=1e300, how="up")


def test_a_change_to_what_is_said_leaves_the_bench_as_it_runs_and_one_to_what_is_set_up_does_not(desk):
    desk.does("scene", name="pushed-conductor")
    desk.does("add")
    desk.does("set", name="current", value=1)
    desk.does("change", number=desk.here, name="caption", value="A rod")
    assert desk.bench.scene["current"] == 1
    desk.does("change", number=desk.here, name="hold", value=True)
    assert desk.bench.scene["current"] == desk.bench.scene.by_name["current"].default and not desk.bench.running


def test_undo_takes_back_and_brings_the_bench_along(desk):
    before = desk.path.read_text()
    desk.does("scene", name="pushed-conductor")
    desk.does("add")
    desk.does("undo")
    assert desk.bench.place == 0 and desk.bench.page is not None and desk.in_the_file() == tomllib.loads(before)
    desk.does("undo", again=True)
    assert len(desk.in_the_file()["step"]) == 2 and desk.bench.place == 1, "what has come back is shown"
    assert "no undone change" in desk.send("undo", again=True)


def test_nothing_is_changed_while_prepare_is_closed_and_nothing_of_it_is_told(desk):
    desk.does("prepare", on=False)
    assert desk.told["steps"] == [] and desk.told["here"] is None
    for request in (
        {"do": "add"},
        {"do": "undo"},
        {"do": "title", "title": "x"},
        {"do": "change", "number": 1, "name": "notes", "value": "x"},
    ):
        assert "while Prepare is open" in desk.send(**request) or "covers the bench" in desk.notice
    assert desk.path.read_text() == BEGUN


def told_to(bench, role: str) -> dict:
    """Everything that a page of that role is told when it is opened now."""
    sent: list = []
    viewer = Viewer(sent.append, bench.host.heard_by(role), role)
    viewer.tell(bench.host.stream, bench.host.heard_by(role), bench.host.chart, {})
    return json.loads(sent[0])


def test_only_the_instructors_page_is_told_and_only_it_may_change_anything(desk):
    desk.does("change", number=desk.here, name="notes", value="Say: my secret")
    desk.does("own", number=desk.here, text="Which end?", choices="this\nthat", right=1, reason="My hidden reason")
    assert "my secret" in json.dumps(told_to(desk.bench, "bench"))
    for role in ("class", SPEAKER, "visitor"):
        assert "preparing" not in told_to(desk.bench, role)
    told = json.dumps(told_to(desk.bench, "class"))
    assert "my secret" not in told and "My hidden reason" not in told and "Which end?" in told
    before = desk.in_the_file()
    follower = Viewer(lambda text: None, (), "class")
    for request in ({"do": "add", "page": True}, {"do": "title", "title": "x"}, {"do": "undo"}, {"do": "prepare", "on": False}):
        desk.bench.receive(request, follower)
    assert desk.in_the_file() == before and desk.bench.opened


def test_what_is_typed_of_one_thing_is_undone_as_one_and_nothing_else_with_it(desk):
    desk.does("title", title="Before")
    for words in ("S", "Say: ", "Say: watch"):
        desk.does("change", number=desk.here, name="notes", value=words, typing=True)
        assert desk.in_the_file()["step"][0]["notes"] == words.strip(), "it is kept while one types"
    desk.does("change", number=desk.here, name="notes", value="Say: watch it", typing=False)
    desk.does("change", number=desk.here, name="notes", value="Again", typing=True)
    desk.does("change", number=desk.here, name="caption", value="A rod", typing=True)
    desk.does("undo")
    assert "caption" not in desk.in_the_file()["step"][0] and desk.in_the_file()["step"][0]["notes"] == "Again"
    desk.does("undo")
    assert desk.in_the_file()["step"][0]["notes"] == "Say: watch it", "begun anew after its field was left"
    desk.does("undo")
    assert "notes" not in desk.in_the_file()["step"][0] and desk.in_the_file()["title"] == "Before"


def test_typing_what_changes_nothing_takes_no_earlier_change_with_it(desk):
    desk.does("title", title="Before")
    desk.does("change", number=desk.here, name="notes", value="  ", typing=True)
    desk.does("change", number=desk.here, name="notes", value=" a", typing=True)
    desk.does("undo")
    assert desk.in_the_file()["title"] == "Before" and "notes" not in desk.in_the_file()["step"][0]


def test_a_question_of_ones_own_is_kept_as_far_as_it_is_written_and_put_once_it_is_whole(desk):
    def own(**more) -> str:
        return desk.send("own", **{"number": desk.here, "text": "", "choices": "", "right": 0, "reason": ""} | more)

    assert own(text="Who?", choices="nobody") == ""
    page = desk.in_the_file()["step"][0]
    assert page["begun"] == {"text": "Who?", "choices": ["nobody"]} and "question" not in page
    assert desk.told["here"]["begun"] == "written" and desk.told["here"]["own"]["text"] == "Who?" and desk.told["here"]["asks"] == "none"
    assert not desk.bench.prediction.waiting and "not whole" in desk.told["steps"][0]["asks"]
    again = Draft(desk.path.read_text("utf-8"), str(desk.path), desk.file.pictures)
    assert again.lesson.steps[0].begun == page["begun"], "a program started anew has it too"
    assert "no two alike" in own(text="Who?", choices="nobody\nnobody", right=1), "what is wrong and not only missing is told, and kept"
    assert desk.told["here"]["own"]["choices"] == "nobody\nnobody"
    assert own(text="Who?", choices="nobody\nall", right=2) == ""
    page = desk.in_the_file()["step"][0]
    assert "begun" not in page and page["question"]["right"] == 2 and desk.bench.prediction.waiting
    # "none", and back
    desk.does("change", number=desk.here, name="question", value="none")
    assert "question" not in desk.in_the_file()["step"][0] and not desk.bench.prediction.waiting
    assert desk.told["here"]["begun"] == "aside" and desk.told["here"]["own"]["choices"] == "nobody\nall"
    desk.does("change", number=desk.here, name="question", value="own")
    assert desk.in_the_file()["step"][0] == page and desk.bench.prediction.posed.text == "Who?"
    # emptied, it is gone: while one writes, the one before is put
    assert own(text="", choices="nobody\nall", right=2) == "" and desk.bench.prediction.posed.text == "Who?"


def test_one_that_is_not_whole_is_set_aside_for_a_question_of_the_demonstration(desk):
    desk.does("scene", name="pushed-conductor")
    desk.does("add")
    desk.does("own", number=desk.here, text="Who?", choices="", right=0, reason="")
    desk.does("change", number=desk.here, name="kind", value="figure")
    assert (desk.told["here"]["begun"], desk.told["here"]["kind"], desk.told["here"]["own"]["text"]) == ("aside", "figure", "Who?")
    desk.does("change", number=desk.here, name="question", value="own")
    assert desk.told["here"]["begun"] == "written"


def test_why_a_question_cannot_be_put_is_told_at_its_menu_till_something_else_is_done(desk):
    desk.does("scene", name="pushed-conductor")
    desk.does("set", name="switch", value=False)
    desk.does("add")
    desk.send("change", number=desk.here, name="kind", value="figure")
    assert "The question" in desk.told["here"]["refused"] and desk.told["here"]["asks"] == "none"
    assert not desk.bench.host.published.get("notice", {}).get("text"), "not over the picture as well"
    desk.does("change", number=desk.here, name="caption", value="Open")
    assert desk.told["here"]["refused"] == ""
    desk.send("change", number=desk.here, name="kind", value="figure")
    desk.does("previous")
    assert desk.told["here"]["refused"] == ""
