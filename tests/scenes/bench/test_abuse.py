"""Messages, addresses and settings that are not as they should be: nothing breaks, one sentence says what is wrong, and who may only
look changes nothing. Random, but the same every time; tests/benchmarks/abuse.py does the same at length."""

from __future__ import annotations

import json
import os
import random
from dataclasses import replace

import pytest
from hypothesis import example, given, settings
from hypothesis import strategies as st

from scenes import catalogue
from scenes.__main__ import main
from scenes.bench.bench import Bench
from scenes.bench.tally import MOST
from scenes.exhibit import tour_file
from scenes.exhibit.exhibit import ExhibitBench
from scenes.kept.writer import Writer
from scenes.lesson import lesson
from scenes.lesson.draft import Draft
from scenes.lesson.lesson_bench import SPEAKER, LessonBench
from scenes.lesson.lesson_file import LessonFile
from scenes.lesson.prepare_bench import PrepareBench
from scenes.practice.practice import Practice
from scenes.practice.practice_bench import PracticeBench
from scenes.practice.results import Results
from scenes.scene import address
from tests import hostile
from tests.scenes.bench.soundness import is_a_sentence, is_sound
from tests.scenes.lesson.built_in_lesson import built_in_lesson
from visual.host.server import Host
from visual.host.viewers import Viewer

pytestmark = pytest.mark.usefixtures("a_log_of_single_lines")


def state(bench: Bench) -> tuple:
    """All that a page could have changed, but for the class's own count."""
    said = {key: value for key, value in bench.host.published.items() if key != "tally"}
    scenes = {name: (scene.view, scene.settings, repr(vars(scene))) for name, scene in bench.scenes.items()}
    held = (bench.running, bench.answers_shown, bench.scene.name, repr(vars(bench.prediction)), bench.prediction._seeds.getstate())
    return json.dumps(said), scenes, held, len(bench.host.stream.commands), dict(bench.host.stream.attributes)


def page(bench: Bench, role: str) -> Viewer:
    viewer = Viewer(lambda text: None, bench.host.heard_by(role), role)
    bench.host.viewers.add(viewer)
    return viewer


def besieged(bench: Bench, viewers: list[Viewer], count: int, seed: int, scenes: tuple[str, ...] = catalogue.NAMES) -> None:
    """So many messages from those pages through the door that the socket uses, and pictures in between."""
    dice = random.Random(seed)
    sender = hostile.Sender(dice, scenes)
    for number in range(count):
        bench.host.receive(dice.choice(viewers), sender.text(bench))
        if number % 4 == 0:
            bench.frame(dice.choice((0.001, 0.03, 0.1)))
            bench.host.flush()
            for viewer in viewers:
                viewer.ready = True
        is_sound(bench)


def test_whatever_a_page_sends_the_bench_stays_sound_and_does_not_grow():
    bench = Bench(Host())
    for name in catalogue.NAMES:
        bench.show(name)
    bench.host.flush()
    made, names = len(bench.host.stream.commands), len(bench.host.stream.names)
    besieged(bench, [page(bench, "bench")], 400, 1)
    assert (len(bench.host.stream.commands), len(bench.host.stream.names)) == (made, names), "nothing is made by what is sent"
    assert len(bench.scenes) == len(catalogue.NAMES) and len(bench.host.chart.points) <= bench.host.chart.points.maxlen
    bench.host.receive(None, '{"do": "scene", "name": "pushed-conductor"}')
    bench.host.receive(None, '{"do": "set", "name": "current", "value": 5}')
    assert bench.host.published["settings"]["current"] == 5, "and it goes on"


def test_whatever_the_class_sends_nothing_changes_but_its_count():
    bench = Bench(Host())
    viewer = page(bench, "class")
    dice = random.Random(2)
    sender = hostile.Sender(dice, catalogue.NAMES)
    for name in catalogue.NAMES:
        bench.receive({"do": "scene", "name": name})
        bench.receive({"do": "ask", "seed": dice.randint(1, 9999)})
        bench.host.flush()
        before = state(bench)
        for _ in range(150):
            bench.host.receive(viewer, sender.text(bench))
        bench.host.flush()
        assert state(bench) == before
        assert bench.host.published["tally"]["answered"] <= MOST and bench.host.published["tally"]["counts"] is None


def test_a_crowd_that_answers_without_end_is_counted_up_to_a_bound():
    bench = Bench(Host(), "pushed-conductor")
    bench.receive({"do": "ask", "seed": 7})
    choice = bench.prediction.question.choices[0][0]
    for number in range(MOST + 200):
        one = page(bench, "class")
        one.visitor, one.address = f"visitor {number}", f"192.0.2.{number % 9}"
        bench.host.receive(one, json.dumps({"do": "answer", "choice": choice}))
    assert bench.host.published["tally"]["answered"] == MOST


def test_whatever_a_visitor_sends_the_exhibit_goes_on_and_forgets_it():
    bench = ExhibitBench(Host(), replace(tour_file.read(tour_file.built_in(), ""), quiet=5.0))
    besieged(bench, [page(bench, "visitor"), page(bench, "status")], 250, 3)
    for word in sorted(set(hostile.FIELDS) - {kind.do for kind in bench.actions} - {"ready", "alive"}):
        before = state(bench)
        bench.receive({"do": word, "name": catalogue.NAMES[0], "value": 1, "on": False, "address": "scene=starting", "shown": False})
        assert state(bench) == before, word
    while bench.use.on:
        bench.frame(0.1)
    assert bench.running and bench.prediction.question is None and bench.failures == 0
    assert bench.scene.settings == bench.scene.defaults | bench.stop.settings


def test_whatever_page_and_speaker_send_in_a_lesson_it_can_go_on():
    bench = LessonBench(Host(), built_in_lesson())
    besieged(bench, [page(bench, "bench"), page(bench, SPEAKER)], 200, 4)
    bench.receive({"do": "open", "address": "step=3"})
    assert bench.host.published["step"]["number"] == 3


def test_whatever_is_sent_while_a_lesson_is_made_its_file_can_be_opened(tmp_path):
    mine = tmp_path / "mine.toml"
    mine.write_text('# mine\n\n[[step]]\nscene = "pushed-conductor"\n\n[[step]]\ntitle = "A page"\n')
    with LessonFile(mine) as file:
        bench = PrepareBench(Host(), Draft(file.read(), "mine.toml", file.pictures), file, opened=True)
        besieged(bench, [page(bench, "bench"), page(bench, SPEAKER)], 400, 6, ("pushed-conductor", "moved-conductor"))
        assert bench.draft.can_undo
        bench.receive({"do": "prepare", "on": True})
        bench.receive({"do": "title", "title": "It goes on"})
    kept = lesson.read(mine.read_text("utf-8"), "mine.toml", file.pictures)
    assert kept == bench.lesson and kept.title == "It goes on" and mine.read_text("utf-8").startswith("# mine\n")
    assert os.listdir(tmp_path) == ["mine.toml"]


def test_whatever_a_student_sends_his_answers_are_kept_as_answers(tmp_path):
    results = Results(tmp_path / "practice.jsonl")
    results.open()
    writer = Writer(results)
    bench = PracticeBench(Host(), Practice(results, catalogue.NAMES, random.Random(5)), writer)
    with writer:
        besieged(bench, [page(bench, "bench")], 150, 5)
    again = Results(tmp_path / "practice.jsonl")
    again.open()
    assert again.answers == results.answers and not again.told
    assert not (tmp_path / "practice.damaged-1.jsonl").exists()


def test_what_is_no_role_is_nothing_to_reverse():
    for name in catalogue.NAMES:
        scene = catalogue.scene_class(name)()
        for role in ("", "speed", "Current", "current ", "x" * 5000, "\n"):
            before = dict(scene.settings)
            with pytest.raises(ValueError) as wrong:
                scene.reverse(role)
            is_a_sentence(str(wrong.value))
            assert scene.settings == before


ODD = [
    "", "nan", "inf", "-inf", "1e400", "1e-400", "0x10", "1_0", "٣", "5" * 1000, "five", "None", "[]", "{}", "%", "%zz", "%00", "%ff%fe",
    "%F0%9F%92%A1", "+", "&", "=", ";", "#", "<b>", "on on", " 5 ", "-", "--help", "\n", "ü", "\U0001f4a1",
]  # fmt: skip


def set_up(bench: Bench) -> tuple:
    return bench.scene.name, dict(bench.scene.settings), bench.scene.view, bench.prediction.shown()


@pytest.mark.parametrize("name", catalogue.NAMES)
def test_an_address_that_cannot_be_changes_nothing_and_is_told(name):
    bench = Bench(Host(), name)
    dice = random.Random(name)
    for odd in ODD:
        for key in (dice.choice(("view", "ask", "scene")), dice.choice(list(bench.scene.by_name))):
            before = set_up(bench)
            bench.receive({"do": "open", "address": f"scene={name}&{key}={odd}"})
            is_sound(bench)
            if bench.host.published.get("notice", {}).get("text"):
                assert set_up(bench) == before, (key, odd)


@pytest.mark.parametrize("wrong", ["view=nowhere", "ask=0", "ask=99999", "current=99", "current=nan", "scene=nothing"])
def test_of_an_address_with_one_thing_wrong_nothing_is_done(wrong):
    bench = Bench(Host(), "moved-conductor")
    before = set_up(bench)
    bench.receive({"do": "open", "address": f"scene=pushed-conductor&tilt=30&current=3&{wrong}"})
    is_a_sentence(bench.host.published["notice"]["text"])
    assert set_up(bench) == before


@settings(max_examples=100, deadline=None, derandomize=True)
@example("scene=" + "s" * 3000)
@example("&=;%+" * 600)
@given(
    st.one_of(
        st.text(st.characters(exclude_categories=("Cs",)), max_size=100), st.text(alphabet="scenasktilt=&%+;0123456789", max_size=300)
    )
)
def test_an_address_is_read_or_told_what_is_wrong(query):
    try:
        scene, values, seed = address.read(query)
    except ValueError as wrong:
        is_a_sentence(str(wrong))
        return
    assert all(isinstance(text, str) for text in (scene or "", seed or "", *values, *values.values()))


def test_the_last_of_a_key_that_stands_twice_counts():
    assert address.read("scene=a&scene=b&x=1&x=2&ask=3&ask=4") == ("b", {"x": "2"}, "4")


def test_settings_from_the_command_line_are_taken_or_told(capsys):
    """Each odd value once where a number is asked for; then any value for any control."""
    dice = random.Random(6)
    takes_number = [(scene.name, control) for scene in catalogue.LESSON for control in scene.controls if control.kind == "number"]
    asked = []
    for odd in ODD:
        name, control = dice.choice(takes_number)
        asked.append((name, f"{control.name}={odd}"))
    for _ in range(125):
        name = dice.choice(catalogue.NAMES)
        control = dice.choice(catalogue.scene_class(name).controls)
        value = dice.choice([dice.choice(ODD), str(hostile.value_of(dice, control)), hostile.mutated(dice, str(control.default))])
        asked.append((name, hostile.mutated(dice, f"{control.name}={value}") if dice.random() < 0.3 else f"{control.name}={value}"))
    for name, pair in asked:
        status = main(["ask", name, f"--set={pair}"])
        told = capsys.readouterr()
        assert status in (0, 2) and bool(told.err) == bool(status)
        if status:
            is_a_sentence(told.err.removesuffix("\n"))
