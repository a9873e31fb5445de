"""Starting: wiring, figures and words, from the told leads alone and from a run-up worked out here.

The circuit of a motor per phase, star-delta arithmetic (a third of line current and torque, root three in voltage), the ideal
autotransformer (volts per turn equal, ampere-turns add up to nothing): standard handbook results. Board W2 U2 V2 above U1 V1 W1,
links upright for delta: IEC 60034-8 and common practice. Contact numbers 1-2, 3-4, 5-6: IEC 60947-4-1 (memory).
"""

from __future__ import annotations

import math
import os
import random
import re

import numpy as np
import pytest

from scenes.drives.starting.scene import Starting
from scenes.drives.starting.starters import IN_THE_PICTURE, WORDS
from scenes.scene.state import as_data, reached
from tests import oracle
from tests.scenes.drives.start_by_hand import (
    BREAKDOWN_TORQUE,
    FREQUENCY,
    LINE,
    RATED_CURRENT,
    RATED_TORQUE,
    SYNC,
    Nodes,
    Run,
    feeds,
    load_torque,
    motor_of,
    phase,
    solved,
    winding_impedance,
)

STATES = int(os.environ.get("THUMBWISE_STATES", "60"))


# the states


def drawn_settings(dice) -> dict:
    return {
        "method": dice.choice(list(WORDS)),
        "drive": dice.choice(("fan", "pump", "conveyor", "flywheel")),
        "load": float(dice.choice((20, 40, 60, 80, 100, 130, 150))),
        "inertia": float(dice.choice((2, 10, 25))),
        "tap": float(dice.choice((50, 65, 80))),
        "ramp": float(dice.choice((2, 5))),
        "curves": dice.choice(("time", "speed")),
    }


def value(data, symbol):
    return next(reading["value"] for reading in data["readings"] if reading["symbol"] == symbol)


def pointer(data, words):
    return next((needle["vector"][0] for needle in data["needles"] if needle["words"] == words), None)


@pytest.fixture(scope="module")
def scene():
    return Starting()


@pytest.mark.parametrize("seed", range(STATES))
def test_wiring_figures_and_words_of_a_state_drawn_at_random(scene, seed):
    dice = random.Random(f"starting {seed}")
    settings = drawn_settings(dice)
    scene.set_all(settings)
    time = dice.choice((0.0, dice.uniform(0, 1), dice.uniform(0, 8)))
    view = dice.choice([view.name for view in scene.views])
    data = as_data(reached(scene, time, view), time)
    run = Run(settings)
    stage, inside, speed = run.at(time)
    check_words(data, settings, run)
    check_reason(data, settings, run)
    check_board(data, settings)
    if run.near_a_change(time) and time:
        return
    # a load that breaks away at the end of a slow ramp does so a twentieth of a second sooner or later, by how rest is reckoned
    slack = 0.02 * 60 * SYNC + 60 * abs(run.at(time + 0.05)[2] - run.at(max(time - 0.05, 0.0))[2])
    assert value(data, "n") == pytest.approx(60 * speed, abs=slack), (settings, time)
    drawn = pointer(data, "speed, n now")  # exact, where the reading is rounded
    check_wiring(data, settings, stage, inside, 0.0 if run.outcome == "stays at rest" else speed if drawn is None else drawn * SYNC)
    check_figures(data, settings, stage, inside)


def check_words(data, settings, run):
    """The outcome in sentence, readings and answer, and no direction that depends on a view."""
    assert data["question"]["answer"] == run.outcome == next(r["value"] for r in data["readings"] if r["words"] == "result")
    said = {"runs": "runs up to", "stays at rest": "stays at rest", "crawls": "crawls at"}[run.outcome]
    assert said in data["says"] and said in data["question"]["reason"]
    for text in (data["says"], data["question"]["text"], data["question"]["reason"], *[r["formula"] for r in data["readings"]]):
        assert not re.search(r"to the (left|right)|toward you|away from you", text)
    assert [r["words"] for r in data["readings"][-6:]] == list(WORDS.values())
    asked = data["question"]["text"]
    on_full = phase(motor_of(settings), LINE, FREQUENCY, 0.0)[1] / RATED_TORQUE, BREAKDOWN_TORQUE[id(motor_of(settings))] / RATED_TORQUE
    told = re.search(r"(\d+) % of rated torque at standstill and (\d+)", asked)
    assert [round(100 * share) for share in on_full] == [int(figure) for figure in told.groups()]
    if settings["drive"] == "conveyor":
        assert f"{settings['load']:.0f} % of rated torque to run and 30 % more" in asked


def check_reason(data, settings, run):
    """The figures of the first instant, by the circuit; what the load takes; and at rest, what it would take to move it."""
    feed, added, _, _ = feeds(settings)[0]
    volts, hertz = feed(0.0)
    current, torque, power = phase(motor_of(settings), volts, hertz, 0.0, added)
    from_line = {
        "star-delta": current / math.sqrt(3),
        "autotransformer": current * settings["tap"] / 100,
        "inverter": power / (math.sqrt(3) * LINE),
    }
    told = re.search(
        r"the motor has (\d+) N m and draws ([\d.]+) times its rated current from the line; the load takes (\d+) N m to move and (\d+) N m",
        data["question"]["reason"],
    )
    to_move = load_torque(settings, 0.0)
    meant = torque, from_line.get(settings["method"], current) / RATED_CURRENT, to_move, load_torque(settings, SYNC)
    for figure, value, within in zip(told.groups(), meant, (0.51, 0.051, 0.51, 0.51), strict=True):
        assert float(figure) == pytest.approx(value, abs=within)
    if run.outcome == "stays at rest":
        bolts = [needle["vector"] for needle in data["needles"] if needle["words"].startswith("first bolt")]
        assert bolts == [pytest.approx((math.sqrt(0.5), math.sqrt(0.5), 0.0), abs=1e-6)] * len(bolts), "it has not turned"
        formula = next(r["formula"] for r in data["readings"] if r["symbol"] == "T")
        assert float(re.search(r"it would take ([\d.]+) N m to move", formula)[1]) == pytest.approx(to_move, abs=0.06)


def check_board(data, settings):
    """The six letters stand as on a board, and links lie upright or not at all."""
    at = {letter["text"]: letter["at"] for letter in reversed(data["letters"])}  # the bars' letters come before a box's
    texts = [letter["text"] for letter in data["letters"]]
    assert [texts.count(ring) for ring in "KLM"] == [settings["method"] == "wound-rotor"] * 3  # at the rings or on the panel, not both
    if data["view"] == "other-end":  # the panel from behind: of all letters those of the slip rings alone
        assert set(at) == ({"K", "L", "M"} if settings["method"] == "wound-rotor" else set())
        return
    assert at["W2"][0] < at["U2"][0] < at["V2"][0] and at["U1"][0] < at["V1"][0] < at["W1"][0]
    for upper, lower in (("W2", "U1"), ("U2", "V1"), ("V2", "W1")):
        assert at[upper][1] > at[lower][1] and at[upper][0] == pytest.approx(at[lower][0])
    links = {
        frozenset((lead["from"], lead["to"]))
        for lead in data["leads"]
        if not lead["through"] and lead["from"].startswith("motor") and lead["to"].startswith("motor")
    }
    upright = {frozenset(("motor U1", "motor W2")), frozenset(("motor V1", "motor U2")), frozenset(("motor W1", "motor V2"))}
    assert links == (set() if settings["method"] == "star-delta" else upright)
    assert at["L1"][1] > at["L2"][1] > at["L3"][1]


def check_wiring(data, settings, stage, inside, speed):
    leads = data["leads"]
    volts_meant, hertz = feeds(settings)[stage][0](inside if feeds(settings)[stage][2] else 0.0)
    added = feeds(settings)[stage][1]
    boxed = volts_meant / LINE
    volts, lines, nodes = solved(data, winding_impedance(motor_of(settings), hertz, speed, added), boxed)
    across = [abs(volts[f"{phase}1"] - volts[f"{phase}2"]) for phase in "UVW"]
    rising = not stage and settings["method"] in ("soft-starter", "inverter")
    assert across == pytest.approx([value(data, "U")] * 3, abs=4.0 if rising else 0.51)
    if volts_meant:  # U, V, W follow each other as L1, L2, L3 do: clockwise seen from the drive end (IEC 60034-8)
        turned = (volts["V1"] - volts["V2"]) / (volts["U1"] - volts["U2"])
        assert np.angle(turned, deg=True) == pytest.approx(-120, abs=0.1)
        for phase_letter in "UVW":
            assert oracle.in_a_loop(leads, f"winding {phase_letter}"), phase_letter
    if settings["method"] in ("direct", "star-delta", "autotransformer", "wound-rotor"):
        if data["view"] in ("corner", "drive-end") or speed == 0:
            assert lines == pytest.approx([value(data, "I")] * 3, rel=0.03, abs=0.3)
    ends = {name: nodes.find(f"motor {name}") for name in ("U1", "V1", "W1", "U2", "V2", "W2")}
    if settings["method"] == "star-delta" and stage == 0:
        assert ends["U2"] == ends["V2"] == ends["W2"] and len({ends["U1"], ends["V1"], ends["W1"], ends["U2"]}) == 4
    elif settings["method"] != "star-delta" or stage == 2:  # as upright links join them
        assert ends["U1"] == ends["W2"] and ends["V1"] == ends["U2"] and ends["W1"] == ends["V2"]
    check_contacts(data)
    if settings["method"] == "wound-rotor":
        check_rotor(data, stage)
    opened = {mark["words"].removesuffix(" open") for mark in data["marks"] if mark["words"].endswith(" open")}
    loose = {end for end in oracle.loose_ends(leads) if end.rsplit(" ", 1)[0] not in opened}
    assert loose == set()


def check_contacts(data):
    """Marks, labels and conduction agree; three contacts, 1-2, 3-4, 5-6; star and delta are not both closed."""
    labels = {letter["text"] for letter in data["letters"]}
    state = {}
    for mark in data["marks"]:
        thing, is_closed = mark["words"].rsplit(" ", 1)
        state[thing] = is_closed == "closed"
        assert (mark["sign"] > 0) == state[thing]
        made = {(lead["from"], lead["to"]) for lead in data["leads"] if lead["through"] == thing}
        if thing.startswith("step"):
            assert len(made) == (2 if state[thing] else 0)
        else:
            assert made == ({(f"{thing} {a}", f"{thing} {b}") for a, b in ("12", "34", "56")} if state[thing] else set())
            name = thing.removesuffix(" contactor").replace("-point", " point").replace("-voltage", " voltage")
            assert data["view"] == "other-end" or (f"{name}: {is_closed}" if data["view"] == "starter" else name) in labels
    assert not (state.get("star contactor") and state.get("delta contactor"))


def check_rotor(data, stage):
    """From each slip ring through so many resistors to where all three are joined."""
    for ring in "KLM":
        assert ring in {letter["text"] for letter in data["letters"]}
    nodes = Nodes(data["leads"])
    for ring in "KLM" if data["view"] != "starter" else "":  # by lead, brush and ring to its own winding, which the others meet at a star
        through = [(f"rotor {ring}", f"brush {ring}", ""), (f"brush {ring}", f"slip ring {ring}", f"slip ring {ring}")]
        through.append((f"slip ring {ring}", "rotor star point", f"rotor winding {ring}"))
        assert set(through) <= {(lead["from"], lead["to"], lead["through"]) for lead in data["leads"]}
        assert oracle.in_a_loop(data["leads"], f"rotor winding {ring}")
    here = [nodes.find(f"rotor {ring}") for ring in "KLM"]
    passed = 0
    while len(set(here)) > 1:
        for place, ring in enumerate("KLM"):
            lead = next(lead for lead in data["leads"] if lead["through"] == f"resistor {ring} {passed + 1}")
            assert nodes.find(lead["from"]) == here[place]
            here[place] = nodes.find(lead["to"])
        passed += 1
    assert len(set(here)) == 1 and passed == 4 - stage


def check_figures(data, settings, stage, inside):
    """Current and torque from the drawn speed by the circuit; the bars as long as the figures."""
    drawn = pointer(data, "speed, n now")
    if drawn is None:
        return  # seen from near
    speed = drawn * SYNC
    feed, added, seconds, _ = feeds(settings)[stage]
    volts, hertz = feed(inside if seconds else 0.0)
    shown = pointer(data, f"{IN_THE_PICTURE[settings['method']]}, I now") * RATED_CURRENT
    assert value(data, "I") == pytest.approx(shown, abs=0.06)
    assert value(data, "n") == pytest.approx(60 * speed, abs=0.6)
    if settings["method"] not in ("soft-starter", "inverter"):
        current, torque, _ = phase(motor_of(settings), volts, hertz, speed, added) if volts else (0.0, 0.0, 0.0)
        if settings["method"] == "autotransformer" and stage == 0:
            current *= settings["tap"] / 100
        if settings["method"] == "star-delta" and stage == 0:
            current /= math.sqrt(3)  # in delta the line carries root three times what a winding does, in star the same
        # between two recorded moments the scene goes straight
        assert shown == pytest.approx(current, rel=0.03, abs=0.3)
        assert value(data, "T") == pytest.approx(torque, rel=0.03, abs=1.0)
    for method, words in IN_THE_PICTURE.items():
        largest = pointer(data, f"{words}, largest I")
        row = next(r for r in data["readings"] if r["words"] == WORDS[method])
        assert (largest is not None) == (row["value"] != "…")
        if row["unit"] == "× rated":
            assert largest == pytest.approx(row["value"], abs=0.051)


def test_resistors_are_shorted_out_one_step_after_another_from_the_star_point_down(scene):
    settings = {"method": "wound-rotor", "drive": "conveyor", "load": 80.0, "inertia": 20.0, "tap": 65.0, "ramp": 5.0, "curves": "time"}
    scene.set_all(settings)
    for stage, began, _, lasts in Run(settings).pieces:
        time = began + 0.5 * min(lasts, 1.0)
        data = as_data(reached(scene, time, "starter"), time)
        check_rotor(data, stage)
        closed = {mark["words"].removesuffix(" closed") for mark in data["marks"] if mark["sign"] > 0}
        assert closed == {"main contactor", *[f"step {number} contactor" for number in range(1, stage + 1)]}
        at = {letter["text"]: letter["at"][1] for letter in data["letters"]}
        assert f"{4 - stage} of 4 steps in circuit" in at
        assert at["step 1"] > at["step 2"] > at["step 3"] > at["step 4"] > at["K"]


@pytest.mark.parametrize("method", WORDS)
def test_the_shaft_turns_clockwise_seen_from_the_drive_end(scene, method):
    """By two instants a thousandth of a second apart, within which it turns by less than half a turn."""
    scene.set_all({"method": method, "drive": "flywheel", "load": 0.0, "inertia": 2.0, "slow": "1"})
    angles = []
    for time in (0.6, 0.601):
        bolt = next(n for n in as_data(reached(scene, time, "corner"), time)["needles"] if n["words"].startswith("first bolt"))
        angles.append(math.atan2(bolt["vector"][1], bolt["vector"][0]))
    turned = math.remainder(angles[1] - angles[0], 2 * math.pi)
    assert oracle.turning(turned, 1.0) == "clockwise"
    assert abs(turned) == pytest.approx(2 * math.pi * 0.001 * value(as_data(scene, 0.6), "n") / 60, rel=0.1)


@pytest.mark.parametrize("method", WORDS)
def test_a_start_takes_the_time_that_is_told(scene, method):
    settings = {"method": method, "drive": "fan", "load": 60.0, "inertia": 10.0, "tap": 65.0, "ramp": 5.0, "curves": "time", "slow": "1"}
    scene.set_all(settings)
    speed, seconds = (float(figure) for figure in re.search(r"runs up to (\d+) r/min in ([\d.]+) s", scene.says()).groups())
    run = Run(settings)
    settled = 60 * run.at(60.0)[2]
    assert speed == pytest.approx(settled, abs=1.5)
    times = np.linspace(0, 12, 6001)
    first = next(time for time in times if 60 * run.at(time)[2] >= 0.99 * settled)
    assert seconds == pytest.approx(first, rel=0.03, abs=0.02)


def test_seen_from_near_every_terminal_is_marked(scene):
    scene.set_all({"method": "star-delta", "drive": "fan"})
    near, far = (as_data(reached(scene, 0.2, view), 0.2) for view in ("starter", "corner"))
    texts = [[letter["text"] for letter in data["letters"]] for data in (near, far)]
    for number in "123456":
        assert texts[0].count(number) == 3 and texts[1].count(number) == 0


def test_nothing_that_is_drawn_gives_the_answer_away(scene):
    scene.set_all({"method": "star-delta", "drive": "conveyor", "load": 60.0})
    data = as_data(reached(scene, 0.0, "corner", reveals_answer=False), 0.0, reveals_answer=False)
    assert not [needle for needle in data["needles"] if needle["words"].endswith(("largest I", "I now", "n now"))]
    assert not {"I", "n"} & {letter["text"] for letter in data["letters"]}
    assert scene.plot(reveals_answer=False).lines == () and scene.marks(reveals_answer=False) == []
    for reading in scene.readings(reveals_answer=False):
        assert reading.tells or reading.words == "voltage across each winding"


@pytest.mark.parametrize("time", [0.5, 7.0])
def test_star_first_and_then_delta(scene, time):
    """A fan is in star at half a second and in delta, run up, at seven: each winding on U / sqrt 3, then on U, and joined as a board's
    upright links would join them."""
    settings = {
        "method": "star-delta",
        "drive": "fan",
        "load": 60.0,
        "inertia": 10.0,
        "tap": 65.0,
        "ramp": 5.0,
        "curves": "time",
        "slow": "1",
    }
    scene.set_all(settings)
    data = as_data(reached(scene, time, "corner"), time)
    stage, inside, speed = Run(settings).at(time)
    assert stage == (0 if time < 1 else 2)
    assert value(data, "U") == pytest.approx(LINE / (math.sqrt(3) if stage == 0 else 1), abs=0.5)
    check_wiring(data, settings, stage, inside, pointer(data, "speed, n now") * SYNC)
