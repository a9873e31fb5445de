"""The instruments worked by hand: the order of work, what is told before an instrument answers, and the fault named from figures."""

from __future__ import annotations

import math
import random

import pytest

from scenes.bench.bench import Bench
from scenes.bench.prediction import setup_of
from scenes.drives.instruments.scene import Instruments
from visual.host.server import Host

# EN 50110-1 (memory) and common practice: tester proved, all conductors against each other and earth, tester proved again
PROVING = [("K1", "K2"), ("U1", "V1"), ("V1", "W1"), ("W1", "U1"), ("U1", "PE"), ("V1", "PE"), ("W1", "PE"), ("K1", "K2")]


@pytest.fixture
def scene():
    return Instruments()


def shown(scene) -> str:
    """Figure and unit of the instrument, "nothing" while it does not answer."""
    each = scene.readings()[0]
    return f"{each.value} {each.unit}".strip()


def reading(scene, words: str):
    return next(each for each in scene.readings() if each.words == words or each.symbol == words)


def lock_off(scene, sticks=False) -> None:
    scene.set("sticks", sticks)
    scene.set("work", "off")
    scene.set("work", "locked")


def prove_dead(scene) -> None:
    scene.set("instrument", "voltmeter")
    for pair in PROVING:
        scene.join(*pair)


@pytest.mark.parametrize("instrument", ["ohmmeter", "insulation"])
def test_each_step_that_is_skipped_is_told_before_the_instrument_answers(scene, instrument):
    scene.set("instrument", instrument)
    for work, says in (("on", "on a live board"), ("off", "anyone can switch on"), ("locked", "Not proved dead")):
        scene.set("work", work)
        with pytest.raises(ValueError, match=says):
            scene.join("U1", "PE")
        assert shown(scene) == "nothing" and says in scene.says() and not scene.now.records
        assert scene["first"] == "U1" and scene["second"] == "PE", "the probes lie where they were put"
        assert "prove" in reading(scene, "order of work").formula or work != "locked"


def test_the_whole_order_done_with_the_tester_and_then_it_answers(scene):
    lock_off(scene)
    scene.set("instrument", "voltmeter")
    for k, pair in enumerate(PROVING, 1):
        scene.join(*pair)
        assert reading(scene, "proved dead").value == f"{k} of 8 tests"
        assert scene["work"] == ("proved" if k == 8 else "locked")
    scene.set("instrument", "ohmmeter")
    scene.join("U1", "V1")
    assert shown(scene) == "0.830 Ω"  # 2 x 0.415


def test_a_tester_that_is_not_proved_proves_nothing_and_proved_once_not_enough(scene):
    lock_off(scene)
    scene.set("instrument", "voltmeter")
    for pair in PROVING[1:7]:
        scene.join(*pair)
    assert reading(scene, "proved dead").value == "0 of 8 tests"
    for pair in PROVING[:7]:
        scene.join(*pair)
    assert reading(scene, "proved dead").value == "7 of 8 tests" and scene["work"] == "locked"
    scene.set("instrument", "ohmmeter")
    with pytest.raises(ValueError, match="Not proved dead: last the voltmeter on the proving unit again"):
        scene.join("U1", "V1")


def test_voltage_on_a_locked_board_is_told_whoever_finds_it(scene):
    """A tester that is not proved may show too little, never too much."""
    lock_off(scene, sticks=True)
    scene.set("instrument", "voltmeter")
    scene.join("W2", "V2")
    assert "is live" not in reading(scene, "proved dead").value
    scene.join("L1", "L2")
    assert "is live" not in reading(scene, "proved dead").value, "the supply's side is live on any locked board"
    scene.join("W2", "PE")
    assert reading(scene, "proved dead").value == "W2 to PE is live"


@pytest.mark.parametrize("left_out", range(1, 7))
def test_a_pair_that_is_left_out_is_named(scene, left_out):
    lock_off(scene)
    scene.set("instrument", "voltmeter")
    for pair in PROVING[:left_out] + PROVING[left_out + 1 :]:
        scene.join(*pair)
    assert scene["work"] == "locked" and " to ".join(PROVING[left_out]) in reading(scene, "proved dead").formula


def test_what_was_not_tested_is_said_to_be_taken_as_done(scene):
    scene.set("work", "proved")
    assert reading(scene, "proved dead").value == "taken as done" and "taken as proved dead" in reading(scene, "order of work").formula
    scene.set("work", "off")
    lock_off(scene)
    prove_dead(scene)
    scene.set("instrument", "ohmmeter")
    assert reading(scene, "proved dead").value == "8 of 8 tests" and "taken" not in reading(scene, "order of work").formula


def test_closing_the_isolator_undoes_the_proof(scene):
    lock_off(scene)
    prove_dead(scene)
    scene.set("work", "on")
    scene.set("work", "locked")
    assert reading(scene, "proved dead").value == "0 of 8 tests"


def test_a_stuck_pole_is_found_by_the_tests_to_earth_alone(scene):
    lock_off(scene, sticks=True)
    scene.set("instrument", "voltmeter")
    for pair in PROVING[:4]:
        scene.join(*pair)
    assert reading(scene, "proved dead").value == "4 of 8 tests"
    scene.join("U1", "PE")
    assert float(shown(scene).split()[0]) == pytest.approx(400 / math.sqrt(3), abs=0.1)
    assert "U1 to PE is live" in reading(scene, "proved dead").value
    scene.set("instrument", "ohmmeter")
    for work in ("locked", "proved"):
        scene.set_all({"work": work, "instrument": "ohmmeter"})
        with pytest.raises(ValueError, match="Not dead: U1 to PE" if work == "proved" else "Not dead|Not proved"):
            scene.join("U1", "V1")
        assert shown(scene) == "nothing"


def test_the_supplys_side_stays_live_and_the_known_source_too(scene):
    scene.set("work", "proved")
    scene.set("instrument", "ohmmeter")
    for pair, says in ((("L1", "U1"), "stay live"), (("K1", "K2"), "proving unit is live")):
        with pytest.raises(ValueError, match=says):
            scene.join(*pair)
    scene.set("instrument", "voltmeter")
    scene.join("L1", "L2")
    assert shown(scene) == "400.0 V"


def test_500_volts_do_not_go_into_the_leads(scene):
    scene.set("work", "proved")
    scene.set("instrument", "insulation")
    with pytest.raises(ValueError, match="Take the leads off first: 500 V"):
        scene.join("U1", "PE")
    scene.set("leads", False)
    scene.join("U1", "PE")
    assert shown(scene) == "133 MΩ"  # three windings of 400 megohm side by side


def test_links_and_leads_come_off_a_dead_board_only_and_go_back_before_it_is_switched_on(scene):
    for work in ("on", "off", "locked"):
        scene.set("work", work)
        for name in ("links", "leads"):
            with pytest.raises(ValueError, match="on a dead board only"):
                scene.set(name, False)
            assert scene[name] is True
    scene.set("work", "proved")
    scene.set("links", False)
    scene.set("leads", False)
    assert scene["links"] is False and scene["leads"] is False
    scene.set("work", "on")
    assert scene["links"] is True and scene["leads"] is True, "nothing is switched on with its leads in the air"


def test_the_clamp_goes_round_a_lead_and_the_indicator_on_three_lines(scene):
    scene.set("instrument", "clamp")
    scene.press("L2")
    assert shown(scene) == "16.1 A" and reading(scene, "I L2").value == "16.1"
    for place, lead in (("U1", "L1"), ("supply L3", "L3"), ("V1", "L2")):  # a lead is taken hold of at either end
        scene.press(place)
        assert scene["first"] == lead and reading(scene, f"I {lead}").value == "16.1"
    with pytest.raises(ValueError, match="goes round one lead: press"):
        scene.press("U2")
    with pytest.raises(ValueError, match="goes round one lead"):
        scene.join("L1", "V1")
    scene.set("work", "off")
    assert "press a lead, or choose it in the list" in scene.says()
    scene.set("work", "on")
    scene.set("instrument", "rotation")
    scene.join("U1", "V1")
    assert shown(scene) == "clockwise" and scene["third"] == "W1"
    scene.join("V1", "U1")
    assert shown(scene) == "counter-clockwise"
    with pytest.raises(ValueError, match="clips go on U1, V1 and W1"):
        scene.join("U1", "L2")
    scene.set("instrument", "voltmeter")
    with pytest.raises(ValueError, match="two different points"):
        scene.join("U1", "U1")


def test_the_indicator_is_fooled_by_a_running_motor_and_not_before_the_fuses(scene):
    """A motor that has lost a line while it runs keeps a voltage on it; standing, it has none to speak of."""
    scene.set_all({"fault": "lost-L3", "instrument": "rotation", "first": "U1", "second": "V1", "third": "W1"})
    assert shown(scene) == "no rotation"
    scene.set_all({"fault": "lost-running-L3"})
    assert shown(scene) == "clockwise"
    scene.set_all({"first": "L1", "second": "L2", "third": "L3"})
    assert shown(scene) == "clockwise"


def test_what_was_measured_is_kept_in_a_table_until_it_is_another_motor(scene):
    scene.set("instrument", "clamp")
    for line in ("L1", "L2", "L3"):
        scene.press(line)
    scene.press("L1")
    symbols = [each.symbol for each in scene.readings()]
    assert [symbols.count(f"I L{k}") for k in (1, 2, 3)] == [1, 1, 1]
    assert reading(scene, "unbalance of the line currents").value == "0.0"
    scene.restart()
    assert "I L1" in [each.symbol for each in scene.readings()], "a question that is asked keeps them"
    scene.set("fault", "uneven-L1")
    assert "I L2" not in [each.symbol for each in scene.readings()]


def test_unbalance_is_that_of_the_three_figures(scene):
    scene.set_all({"fault": "uneven-L2", "instrument": "clamp"})
    for line in ("L1", "L2", "L3"):
        scene.press(line)
    three = [float(reading(scene, f"I {line}").value) for line in ("L1", "L2", "L3")]
    mean = sum(three) / 3
    expected = 100 * max(abs(each - mean) for each in three) / mean
    assert float(reading(scene, "unbalance of the line currents").value) == pytest.approx(expected, abs=0.6)


def test_a_hidden_fault_is_told_only_once_it_is_named(scene):
    bench = Bench(Host(), "instruments")
    bench.receive({"do": "set", "name": "fault", "value": "hidden"})
    bench.receive({"do": "set", "name": "number", "value": 52})
    bench.receive({"do": "set", "name": "instrument", "value": "clamp"})

    def told() -> str:
        return next(each["value"] for each in bench.host.published["readings"] if each["words"] == "fault")

    assert told() == "to be found"
    bench.receive({"do": "ask", "present": True})
    assert told() == "?"
    for line in ("L1", "L2", "L3"):
        bench.receive({"do": "press", "name": line})
    assert bench.prediction.waiting and len(bench.scene.now.records) >= 3
    bench.receive({"do": "answer", "choice": "lost"})
    assert told() == "?" and bench.host.published["question"]["answer"] is None, "it may be named once more"
    bench.receive({"do": "answer", "choice": "uneven"})
    asked = bench.host.published["question"]
    assert asked["right"] is False and asked["answer"] == "turns of a winding are shorted"
    assert " speak" in asked["reason"].partition(' against "the supply is unbalanced".')[0], "first what speaks against the answer"
    assert "Turns of winding" in asked["reason"] and "sound: 16.1 A" in asked["reason"]
    assert "shorted" in told()


def test_a_mistake_is_told_on_the_page_while_a_question_waits():
    bench = Bench(Host(), "instruments")
    bench.receive({"do": "set", "name": "instrument", "value": "ohmmeter"})
    bench.receive({"do": "ask", "present": True})
    bench.receive({"do": "join", "first": "U1", "second": "V1"})
    assert "No ohmmeter on a live board" in bench.host.published["notice"]["text"]
    assert bench.host.published["readings"][0]["value"] == "nothing" and bench.prediction.waiting


def test_figures_that_two_faults_share_do_not_decide_and_the_one_that_would_is_named(scene):
    """A loose link and shorted turns both leave unequal resistances with the links on; the windings by themselves tell them apart."""
    scene.set_all({"fault": "reversed-U", "instrument": "voltmeter"})
    scene.join("U1", "V1")
    scene.join("V1", "W1")
    reason, fit = scene.question().reason, [words for _, words in scene.question().against if "measure something else" in words]
    assert (
        len(fit) == 6 and "Every figure you took is that of a sound motor; six other answers fit as well: the clamp meter round" in reason
    )
    scene.set_all({"fault": "earth-V", "instrument": "clamp", "first": "off"})
    scene.press("L1")
    reason = scene.question().reason
    assert "The figure you took is that of a sound motor" in reason and "fits as well: the insulation tester from" in reason
    scene.set("work", "proved")
    scene.set("leads", False)
    scene.set("links", False)
    scene.set("instrument", "insulation")
    scene.join("V1", "PE")
    reason = scene.question().reason
    assert "Winding V has an earth fault" in reason and "R V1-PE 0.008 MΩ" in reason and "Nothing else that is asked about" in reason


def test_a_wrong_answer_is_told_the_figures_that_speak_against_it(scene):
    """Equal currents: no line is lost, no winding open; a sound motor has them too, so nothing speaks against an earth fault."""
    scene.set_all({"fault": "overload", "instrument": "clamp", "first": "off"})
    assert all("Nothing was measured" in words for _, words in scene.question().against)
    scene.press("L2")
    amperes = shown(scene)
    against = dict(scene.question().against)
    assert set(against) == {kind for kind, _ in scene.question().choices} - {"overload"}
    assert against["sound"] == f'I L2 {amperes} speaks against "nothing: it is sound".'
    assert against["earth"] == f'I L2 {amperes} speaks against "a winding has an earth fault".'
    scene.set_all({"fault": "sound", "instrument": "clamp", "first": "off"})
    for line in ("L1", "L2"):
        scene.press(line)
    against = dict(scene.question().against)
    assert "that of a sound motor" in against["earth"] and "measure something else" in against["earth"]
    assert "I L1 16.1 A" in against["lost"] + against["overload"] and "speak" in against["overload"]
    assert scene.question().reason_after("earth") == f"{against['earth']} {scene.question().reason}"
    assert scene.question().reason_after("sound") == scene.question().reason


def test_nothing_measured_is_no_reason(scene):
    scene.set_all({"first": "off"})
    scene.set("fault", "open-W")
    assert "nothing was measured" in scene.question().reason


def test_questions_have_every_answer_a_sheet_with_its_figures_and_are_the_same_for_the_same_seed(scene):
    answers = set()
    for seed in range(1, 80):
        scene.set_all(setup_of(scene, seed))
        question = scene.question()
        assert question.answer in dict(question.choices) and len(question.choices) == 9
        assert "Test sheet" in question.text and "Nothing else that is asked about gives these figures" in question.reason
        answers.add(question.answer)
    assert len(answers) == 9


def test_a_picture_takes_little_time(scene):
    """Measured, with much to spare for a busy machine."""
    import time

    dice, spent = random.Random(5), []
    for _ in range(8):
        scene.set_all(setup_of(scene, dice.randint(1, 9999)))
        start = time.process_time()
        scene.step(0.04)
        scene.readings()
        scene.says()
        spent.append(time.process_time() - start)
    assert sorted(spent)[4] < 0.2


def test_a_fault_named_wrongly_may_be_named_once_more_before_it_is_told(scene):
    """The first answer counts; measuring goes on between; the second tells. A test sheet has all there is: no second try."""
    bench = Bench(Host(), "instruments")
    bench.scene.set_all(dict(scene.settings) | {"fault": "earth-V", "work": "on"})
    bench.receive({"do": "ask", "present": True})

    def card():
        return bench.host.published["question"]

    bench.receive({"do": "answer", "choice": "shorted"})
    assert card()["given"] is card()["answer"] is card()["reason"] is None and bench.prediction.waiting
    assert card()["note"].startswith("Wrong: ") and card()["note"].endswith("Measure on, and name it once more.")
    assert "earth fault" not in card()["note"] and card()["score"] == {"right": 0, "asked": 1}
    assert not bench.reveals_answer and not bench.scene.now.named
    bench.receive({"do": "set", "name": "instrument", "value": "clamp"})
    bench.receive({"do": "press", "name": "L1"})
    assert "Wrong: " in card()["note"], "measuring on is what it is for"
    bench.receive({"do": "answer", "choice": "earth"})
    assert card()["right"] is True and card()["note"] == "" and card()["answer"] == "a winding has an earth fault"
    assert card()["score"] == {"right": 0, "asked": 1} and bench.scene.now.named
    bench.receive({"do": "ask", "present": True})
    for choice in ("shorted", "open"):
        assert bench.prediction.waiting
        bench.receive({"do": "answer", "choice": choice})
    assert card()["right"] is False and card()["answer"] and card()["score"] == {"right": 0, "asked": 2}
    bench.receive({"do": "ask", "present": True})
    bench.receive({"do": "answer", "choice": "shorted"})
    bench.receive({"do": "set", "name": "fault", "value": "open-U"})
    assert card()["note"] == "", "another fault, another question"
    bench.receive({"do": "ask", "seed": 7})
    wrong = next(value for value, _ in bench.prediction.question.choices if value != bench.prediction.question.answer)
    bench.receive({"do": "answer", "choice": wrong})
    assert card()["right"] is False and card()["answer"]


def test_a_question_that_is_put_away_leaves_the_motor_as_it_was(scene):
    bench = Bench(Host(), "instruments")
    bench.scene.set_all(dict(scene.settings) | {"fault": "earth-V", "work": "on", "first": "U1", "second": "V1"})
    bench.receive({"do": "ask", "present": True})
    bench.receive({"do": "set", "name": "second", "value": "W1"})
    before, records = dict(bench.scene.settings), bench.scene.now.records
    bench.receive({"do": "enough"})
    assert bench.host.published["question"] is None and dict(bench.scene.settings) == before and bench.scene.now.records == records
