"""The unattended loop: it goes round by itself, a visitor takes it over for a while, and nothing of that stays."""

from __future__ import annotations

from dataclasses import replace

import pytest

from scenes import catalogue
from scenes.__main__ import main
from scenes.exhibit.exhibit import ExhibitBench
from scenes.exhibit.tour import ATTRACT, TourStop
from scenes.exhibit.tours import TOURS, full_loop, tour_of, usual
from visual.host.server import Host

LOOP = replace(full_loop(TourStop("", 6.0, scene="pushed-conductor"), minutes_per_scene=0.1), quiet=5)


@pytest.fixture
def exhibit():
    return ExhibitBench(Host(), LOOP)


def begin(exhibit, place: int) -> None:
    """Go to the first stop at the scene of that place in the lesson."""
    exhibit.go_to(next(at for at, stop in enumerate(LOOP.stops) if stop.scene == catalogue.NAMES[place] and not stop.goes_on))


@pytest.fixture(params=catalogue.NAMES)
def scene(request):
    return catalogue.scene_class(request.param)()


def pass_time(exhibit, seconds: float) -> None:
    for _ in range(round(seconds / 0.1)):
        exhibit.frame(0.1)


def shown(exhibit) -> dict:
    return exhibit.host.published["exhibit"]


def built(exhibit) -> dict:
    """The settings of the present scene as it is built, with what the present stop changes."""
    return {control.name: control.default for control in exhibit.scene.controls} | exhibit.stop.settings


# the tours


def test_a_tour_asks_for_nothing_that_the_scene_has_not(scene):
    for stop in tour_of(scene):
        scene.set_all(stop.settings)
        if stop.reverse:
            scene.reverse(stop.reverse)
        if stop.view:
            scene.look(stop.view)
        if scene.name in TOURS:
            assert stop.seconds >= 5 and len(stop.caption) <= 130, "it has to be read in passing"
        assert stop.caption.endswith(".") or stop.chance


def test_no_tour_is_of_a_scene_that_is_gone_and_none_says_the_same_twice():
    assert set(TOURS) <= set(catalogue.NAMES)
    for name in TOURS:
        captions = [stop.caption for stop in tour_of(catalogue.scene_class(name)())]
        assert len(set(captions)) == len(captions) >= 4


def test_the_usual_tour_shows_each_view_and_what_can_be_reversed(scene):
    stops = usual(scene)
    assert {stop.view for stop in stops} == {view.name for view in scene.views}
    assert {stop.reverse for stop in stops} - {""} == {control.role for control in scene.controls} - {""}


# captions that state a fact: what the scene itself works out at that stop bears them out


def at_stop(name: str, words: str):
    """A scene as the loop has it at the stop whose caption holds these words."""
    scene = catalogue.scene_class(name)()
    for stop in TOURS[name]:
        scene.set_all(stop.settings)
        if stop.reverse:
            scene.reverse(stop.reverse)
        if words in stop.caption:
            scene.restart()
            return scene
    raise AssertionError(words)


@pytest.mark.parametrize(
    ("name", "words", "says"),
    [
        ("field-round-a-wire", "Without current", "No current flows"),
        ("pushed-conductor", "swings the rod out", "to the left"),
        ("pushed-conductor", "the force is reversed", "to the right"),
        ("pushed-conductor", "With both reversed", "to the left"),
        ("pushed-conductor", "feels no force", "is not pushed"),
        ("two-wires", "Without current", "No current flows"),
        ("two-wires", "attract", "attract"),
        ("two-wires", "repel", "repel"),
        ("two-wires", "no current in one", "exert no force"),
        ("moved-conductor", "generates nothing", "generates nothing"),
        ("turning-field", "other direction", "counter-clockwise"),
        ("turning-field", "only pulsates", "does not rotate"),
        ("turning-field", "half the speed", "it has 4 poles"),
        ("inside-a-motor", "on its feet", "A cage motor, assembled"),
        ("inside-a-motor", "lead its currents out", "A slip-ring motor, fully dismantled. The slip rings are lit"),
        ("inside-a-motor", "press the brushes", "The brush-holders are lit: they are there to guide"),
        ("laying-the-winding", "spans half the bore", "In 12 slots for 2 poles 1 of 6 coils is laid"),
        ("laying-the-winding", "only pulsates", "the field does not rotate"),
        ("laying-the-winding", "and the field rotates", "the field rotates clockwise."),
        (
            "laying-the-winding",
            "but unevenly",
            "V laid the wrong way round; looking at the drive end, the field rotates clockwise, unevenly",
        ),
        ("laying-the-winding", "goes the other way", "the field rotates counter-clockwise, unevenly"),
        ("changing-speed", "twice the field's speed", "1500 r/min"),
        ("changing-speed", "high speed", "with 2 poles"),
        ("synchronous-motor", "exactly with the field", "the rotor turns in step"),
        ("synchronous-motor", "only shakes", "the rotor is at standstill"),
        ("terminal-box", "in star", "in star on 400 V: right"),
        ("terminal-box", "right on 230 V", "in delta on 230 V: right"),
        ("terminal-box", "are a delta too", "in delta on 230 V: right"),
        ("terminal-box", "only hums", "lead L3 is off"),
        ("terminal-box", "it burns", "made for 230 V"),
        ("terminal-box", "fuses blow", "a short circuit"),
        ("terminal-box", "its links out", "six leads on 400 V: right"),
        ("instruments", "the same in all three", "The clamp meter round lead L1 shows 16.1 A."),
        ("instruments", "nearly twice as much", "shows 30.3 A."),
        ("instruments", "is a mistake", "No ohmmeter on a live board"),
        ("instruments", "two windings in a row", "shows 0.830 Ω."),
        ("instruments", "shows less", "shows 0.768 Ω."),
        ("instruments", "an earth fault", "shows 0.008 MΩ."),
        ("one-phase", "It hums", "the rotor hums at standstill; two equal fields"),
        ("one-phase", "in that direction", "the rotor turns clockwise"),
        ("one-phase", "the opposite one", "the rotor turns counter-clockwise"),
        ("one-phase", "loses a phase goes on", "the rotor turns clockwise"),
        ("one-phase", "would only hum", "the rotor hums at standstill"),
        ("braking", "only coasts", "before the braking begins"),
        ("starting", "does not even move", "stays at rest"),
        ("starting", "longer start", "runs up"),
    ],
)
def test_the_caption_is_what_the_scene_works_out(name, words, says):
    assert says in at_stop(name, words).says()


def test_half_the_current_is_a_quarter_of_the_push():
    halved, whole = at_stop("two-wires", "Half the current"), at_stop("two-wires", "attract")
    assert halved.setup.currents == {wire: current / 2 for wire, current in whole.setup.currents.items()}
    assert halved.now.push == pytest.approx(whole.now.push / 4, rel=1e-12)


def test_twice_the_load_more_than_doubles_the_slip():
    slips = []
    for words in ("that is the slip", "twice the load"):
        scene = at_stop("slip-and-speed", words)
        for _ in range(600):
            scene.step(1 / 60 / scene.slowness)
        slips.append(float(next(r.value for r in scene.readings() if r.symbol == "s")))
    assert slips[1] > 2 * slips[0] > 0


def test_the_synchronous_motor_leans_falls_out_and_is_started_by_its_cage():
    """Each as its caption says, run for as long as it is shown."""
    said = {}
    for words in ("only leans back", "one sees it lean", "falls out of step", "falls into step", "only shakes"):
        scene = at_stop("synchronous-motor", words)
        for _ in range(int(60 * 10 / float(scene["slow"]))):
            scene.step(1 / 60)
        said[words] = scene.says()
    assert all(", out of step" not in said[words] and "in step" in said[words] for words in ("only leans back", "one sees it lean"))
    assert "out of step with it" in said["falls out of step"] and "turns in step" in said["falls into step"]
    assert "near standstill" in said["only shakes"]


# the loop


def test_the_loop_shows_every_scene_then_the_one_that_attracts_and_begins_again(exhibit):
    seen: list[tuple[bool, str]] = []
    for _ in range(10 * (len(catalogue.NAMES) + 3)):
        here = exhibit.here == ATTRACT, exhibit.scene.name
        if not seen or seen[-1] != here:
            seen.append(here)
        exhibit.frame(1.0)
    one_round = [(True, "pushed-conductor"), *((False, name) for name in catalogue.NAMES)]
    assert seen == (one_round * 2)[: len(seen)] and len(seen) > len(one_round)


@pytest.mark.parametrize("part", ["step", "draw", "says"])
def test_a_scene_that_fails_is_passed_over_and_the_public_sees_no_error(monkeypatch, caplog, part):
    names = ["two-wires", "pushed-conductor", "alternator"]
    exhibit = ExhibitBench(Host(), replace(LOOP, stops=[stop for stop in LOOP.stops if stop.scene in names]))
    monkeypatch.setattr(exhibit._scene("pushed-conductor"), part, lambda *_: 1 / 0)
    seen = set()
    for _ in range(80):  # round and past the one that fails a second time; it is the one that attracts, too
        exhibit.frame(0.5)
        seen.add(exhibit.scene.name)
    assert "ZeroDivisionError" in caplog.text and exhibit.failures >= 3
    assert seen >= {"two-wires", "alternator"} and not exhibit.host.published.get("notice", {}).get("text")
    exhibit.receive({"do": "next"})
    for _ in range(3):  # past the one that attracts, and its own stop
        exhibit.frame(0.1)
    assert exhibit.scene.name != "pushed-conductor" and exhibit.running


def test_each_stop_says_its_words_and_a_set_up_by_chance_says_its_own(exhibit):
    begin(exhibit, 1)
    while not exhibit.stop.chance:
        assert shown(exhibit)["caption"] == exhibit.stop.caption
        exhibit.go_to(exhibit.here + 1)
    assert exhibit.scene.name == catalogue.NAMES[1] and shown(exhibit)["caption"] == exhibit.scene.says()


def test_without_minutes_a_scene_stays_as_long_as_its_words_need():
    first = next(iter(TOURS.values()))
    assert [stop.seconds for stop in full_loop(LOOP.attract).stops[: len(first)]] == [stop.seconds for stop in first]
    assert sum(stop.seconds for stop in LOOP.stops) == pytest.approx(6.0 * len(catalogue.NAMES))


def test_a_scene_starts_as_it_is_built_whatever_the_round_before_left(exhibit):
    begin(exhibit, 1)
    exhibit.scene.set_all({"current": -3.0, "tilt": 45.0})
    exhibit.look("side")
    begin(exhibit, 1)
    assert exhibit.scene.settings == built(exhibit) and exhibit.scene.view == exhibit.stop.view


# the visitor


def tries(exhibit) -> list[str]:
    return [each["words"] for each in shown(exhibit)["tries"]]


def press(exhibit, words: str) -> None:
    exhibit.receive({"do": "try", "number": tries(exhibit).index(words)})


def test_a_visitor_takes_over_and_is_forgotten_after_a_quiet_while(exhibit):
    begin(exhibit, 1)
    current = exhibit.scene["current"]
    press(exhibit, "Reverse the current")
    assert exhibit.use.on and exhibit.scene["current"] == -current
    assert exhibit.scene["switch"], "what the loop had switched off is on, or his reversing would do nothing"
    pass_time(exhibit, 4.5)
    assert exhibit.scene["current"] == -current, "the loop waits while he is there"
    pass_time(exhibit, 1.0)
    assert exhibit.here == ATTRACT and not exhibit.use.on and exhibit.scene.settings == built(exhibit)


def test_the_seconds_left_are_counted_down_for_one_who_is_busy(exhibit):
    begin(exhibit, 1)
    exhibit.receive({"do": "touch"})
    left = []
    for _ in range(60):
        exhibit.frame(0.1)
        if not left or shown(exhibit)["left"] != left[-1]:
            left.append(shown(exhibit)["left"])
    assert left == [None, 3, 2, 1, None] and exhibit.here == ATTRACT


def test_one_who_has_only_gone_on_is_counted_down_and_forgotten_as_well(exhibit):
    begin(exhibit, 0)
    exhibit.receive({"do": "next"})
    assert exhibit.here > 0
    left = set()
    for _ in range(49):
        exhibit.frame(0.1)
        left.add(shown(exhibit)["left"])
    assert left == {None, 1, 2, 3} and exhibit.here > 0
    exhibit.frame(0.2)
    assert exhibit.here == ATTRACT and not exhibit.use.on


def test_a_question_held_open_is_forgotten_as_well(exhibit):
    begin(exhibit, 1)
    press(exhibit, "A question")
    assert exhibit.prediction.waiting and shown(exhibit)["caption"] == exhibit.prediction.question.text
    pass_time(exhibit, 3)
    exhibit.receive({"do": "touch"})
    pass_time(exhibit, 4)
    assert exhibit.prediction.waiting, "a touch is a sign of life"
    pass_time(exhibit, 2)
    assert exhibit.prediction.question is None and exhibit.running and exhibit.answers_shown
    assert exhibit.host.published["question"] is None and shown(exhibit)["answers"] == []


def test_a_visitor_answers_and_sees(exhibit):
    begin(exhibit, 1)
    press(exhibit, "A question")
    question = exhibit.prediction.question
    exhibit.receive({"do": "answer", "choice": "nonsense"})
    assert exhibit.prediction.waiting and [each["value"] for each in shown(exhibit)["answers"]] == [value for value, _ in question.choices]
    exhibit.receive({"do": "answer", "choice": question.answer})
    assert exhibit.host.published["question"]["right"] is True
    words = dict(question.choices)[question.answer]
    assert shown(exhibit)["caption"] == f"Right! {words[0].upper()}{words[1:]}. {question.reason}"
    press(exhibit, "Reverse the current")
    assert exhibit.host.published["question"] is None


def test_after_a_touch_the_sentence_is_short_and_stands_still(exhibit):
    begin(exhibit, catalogue.NAMES.index("turning-field"))
    press(exhibit, "Swap two phases")
    captions = set()
    for _ in range(20):
        exhibit.frame(0.1)
        captions.add(shown(exhibit)["caption"])
    assert captions == {"Two phases are swapped: see which way it turns now."}


def test_next_goes_to_the_next_scene(exhibit):
    begin(exhibit, 1)
    exhibit.receive({"do": "next"})
    assert exhibit.scene.name == catalogue.NAMES[2] and exhibit.stop is LOOP.stops[exhibit.here] and not exhibit.stop.goes_on


def test_buttons_are_named_for_what_they_do(exhibit):
    words = {}
    for place, name in enumerate(catalogue.NAMES):
        begin(exhibit, place)
        words[name] = tries(exhibit)
    assert words["pushed-conductor"] == ["Reverse the current", "Reverse the field", "A question"]
    assert words["turning-field"] == ["Swap two phases", "A question"]
    assert words["starting"] == ["A question"]


def test_parts_that_stand_alone_can_be_pressed_and_none_that_are_joined(exhibit):
    begin(exhibit, catalogue.NAMES.index("inside-a-motor"))
    part = exhibit.host.published["picks"][3]
    exhibit.receive({"do": "press", "name": part["name"]})
    assert shown(exhibit)["caption"] == exhibit.scene.says() and part["words"].lower() in exhibit.scene.says().lower()
    begin(exhibit, catalogue.NAMES.index("terminal-box"))
    assert exhibit.host.published["picks"] == [] and len(exhibit.scene.picks) > 0


@pytest.mark.parametrize(
    "message",
    [
        {"do": "open", "address": "scene=starting"},
        {"do": "set", "name": "current", "value": 1},
        {"do": "run", "on": False},
        {"do": "scene", "name": "starting"},
        {"do": "answers", "shown": False},
        {"do": "view", "name": "side"},
        {"do": "step"},
        {"do": "restart"},
        {"do": "tally"},
        {"do": "nothing"},
        {"do": "reverse", "what": "current"},
        {"do": "join", "first": "U1", "second": "V1"},
        {"do": "press", "name": "fan"},
        {"do": "try"},
        {"do": "try", "number": 3},
        {"do": "try", "number": -1},
        {"do": "try", "number": 0.5},
        {"do": "try", "number": "0"},
        {"do": "turn", "speed": 1},
        {"do": "speak", "language": "cy"},
        {"do": "ask"},
        {"do": "enough"},
        {"do": "answer", "choice": "left"},
        {"do": "answer"},
    ],
)
def test_all_else_is_passed_over_without_a_word(exhibit, message):
    begin(exhibit, 1)
    exhibit.receive({"do": "touch"})
    before = dict(exhibit.scene.settings), exhibit.scene.name, exhibit.running, exhibit.scene.view
    exhibit.receive(message)
    assert (dict(exhibit.scene.settings), exhibit.scene.name, exhibit.running, exhibit.scene.view) == before
    assert not exhibit.host.published.get("notice", {}).get("text")


# from the command


@pytest.mark.parametrize(
    "wrong", [["--minutes-per-scene", "0"], ["--minutes-per-scene", "long"], ["--quiet-seconds", "1e9"], ["--quiet-seconds", "3"]]
)
def test_times_that_cannot_be_are_told(wrong, capsys):
    assert main(["exhibit", *wrong]) == 2
    said = capsys.readouterr().err
    assert said.startswith(f"thumbwise: Argument {wrong[0]}: must be ") and said.count("\n") == 1
