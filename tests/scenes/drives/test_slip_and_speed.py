"""Slip and speed: laps against the integral of slip, answers against a search along the curve, plates that contradict themselves."""

from __future__ import annotations

import random
import re

import numpy as np
import pytest
from scipy.integrate import solve_ivp

from scenes.bench.bench import Bench
from scenes.bench.prediction import setup_of
from scenes.drives.slip_and_speed.scene import SlipAndSpeed
from visual.host.server import Host
from visual.solid.told import told


@pytest.fixture
def scene():
    return SlipAndSpeed()


def settings_at_random(seed: int) -> dict:
    dice = random.Random(seed)
    return {
        "load": float(dice.randint(0, 30) * 5),
        "plate": dice.random() < 0.3,
        "frequency": float(dice.randint(30, 70)),
        "poles": dice.choice("2468"),
        "lines": dice.choice(("L1-L2-L3", "L2-L1-L3", "L1-L3-L2")),
    }


def said(scene, words: str) -> str:
    return next(reading.value for reading in scene.readings() if words in reading.words).replace("\N{MINUS SIGN}", "-")


@pytest.mark.parametrize("seed", range(8))
def test_the_laps_counted_are_the_integral_of_slip(scene, seed):
    """Against scipy's integration of the torque on the shaft."""
    scene.set_all(settings_at_random(seed))
    scene.restart()
    motor = scene.setup.motor
    synchronous = 2 * np.pi * motor.circuit.synchronous_speed

    def rates(_, state):
        slip = (synchronous - state[0]) / synchronous
        torque = float(motor.circuit.at(slip).torque) - motor.lost * state[0] / (2 * np.pi) - scene.setup.load
        return [torque / motor.inertia, slip * synchronous / (2 * np.pi)]

    seconds = 0.6
    reference = solve_ivp(rates, (0, seconds), [2 * np.pi * abs(scene.now.speed), 0.0], method="LSODA", rtol=1e-8, atol=1e-8).y[:, -1]
    for _ in range(30):
        scene.step(seconds / 30)
    assert scene.now.laps == pytest.approx(reference[1], abs=0.01)
    assert float(said(scene, "laps of slip")) == pytest.approx(scene.now.laps, abs=0.006)
    assert float(said(scene, "speed of the rotor")) == pytest.approx(reference[0] * 30 / np.pi, abs=1.0)
    in_rotor = (1 - reference[0] / synchronous) * motor.circuit.frequency
    assert float(said(scene, "frequency in the rotor")) == pytest.approx(in_rotor, abs=0.02)
    # IEC 60034-8: U-V-W on L1-L2-L3 turns clockwise seen from the drive end
    assert np.sign(scene.setup.sense) * np.sign(scene.now.speed) == (-1 if scene["lines"] == "L1-L2-L3" else 1)


@pytest.mark.parametrize(
    ("frequency", "poles", "speed"), [(50, 2, 3000), (50, 4, 1500), (50, 6, 1000), (50, 8, 750), (60, 2, 3600), (60, 4, 1800)]
)
def test_synchronous_speeds_are_those_of_the_table(scene, frequency, poles, speed):
    """As every handbook tabulates them."""
    scene.set_all({"frequency": frequency, "poles": str(poles)})
    assert float(said(scene, "synchronous speed")) == speed


def test_answers_are_those_of_a_search_along_the_curve(scene):
    answers = set()
    for seed in range(1, 80):
        scene.set_all(setup_of(scene, seed))
        scene.restart()
        motor, question = scene.setup.motor, scene.question()
        slips = np.linspace(0, 1, 20001)
        points = motor.circuit.at(slips)
        carried = points.torque - motor.lost * points.speed >= scene.setup.load
        if not carried.any():
            assert question.answer == "stalls"
        else:
            current = abs(points.stator_current[np.argmax(carried)]) / motor.rated_current
            assert question.answer == ("over" if current > 1.02 else "rated")
        answers.add(question.answer)
        assert scene.settings == {**scene.settings, **setup_of(scene, seed)}, "the same for the same seed"
    assert answers == {"rated", "over", "stalls"}


def test_overloaded_it_stalls_draws_its_locked_current_and_starts_when_the_load_lets_go(scene):
    scene.set("load", 300)
    for _ in range(100):
        scene.step(0.02)
    assert scene.now.stalled and "stands" in scene.says()
    locked = float(abs(scene.setup.motor.circuit.at(1.0).stator_current))
    assert float(said(scene, "current in a line")) == pytest.approx(locked, abs=0.006)
    assert locked > 4 * scene.setup.motor.rated_current
    scene.set("load", 50)
    for _ in range(100):
        scene.step(0.02)
    assert 0 < scene.now.slip < 0.05


def test_at_its_rated_load_it_is_the_motor_of_the_plate(scene):
    scene.set_all({"plate": True, "load": 100, "plate-power": 7.5, "plate-speed": 2890, "plate-current": 14.2, "plate-power-factor": 0.88})
    scene.restart()
    for _ in range(100):
        scene.step(0.02)
    assert float(said(scene, "speed of the rotor")) == pytest.approx(2890, abs=2)
    assert float(said(scene, "current in a line")) == pytest.approx(14.2, rel=0.01)
    assert float(said(scene, "rated torque")) == pytest.approx(7500 / (2 * np.pi * 2890 / 60), abs=0.01)
    assert scene.setup.motor.circuit.poles == 2


def test_a_plate_that_contradicts_itself_is_refused_in_a_sentence_and_nothing_is_lost(scene):
    scene.set_all({"plate": True, "load": 80})
    scene.step(0.5)
    motor, laps = scene.setup.motor, scene.now.laps
    with pytest.raises(ValueError, match=r"^Power must be less than what is drawn, .* power factor, .*\.$"):
        scene.set("plate-power", 9)
    assert scene["plate-power"] == 9 and scene["load"] == 80
    assert scene.setup.motor is motor and scene.now.laps == laps
    assert scene.readings()[0].value == "refused" and scene.says().endswith("the motor before it stays.")
    scene.set("load", 60)  # something else can be changed meanwhile
    with pytest.raises(ValueError):
        scene.set("plate-voltage", 390)
    scene.set("plate-current", 18)  # the figure that was missing: now it can be
    assert scene.refused == "" and scene.setup.motor.rated_current == 18


@pytest.mark.parametrize(("speed", "frequency", "poles"), [(560, "50", 10), (480, "50", 12), (330, "50", 18), (690, "60", 10)])
def test_a_plate_of_more_poles_than_are_drawn_is_refused_and_the_motor_stays(scene, speed, frequency, poles):
    scene.ensure_built(Host())
    scene.set_all({"plate": True, "plate-frequency": frequency, "plate-speed": {"50": 1440, "60": 1740}[frequency]})
    before = scene.setup.motor
    with pytest.raises(
        ValueError, match=rf"^Rated speed {speed} r/min is that of a motor of {poles} poles, and 8 are the most that are shown\.$"
    ):
        scene.set("plate-speed", speed)
    assert scene.setup.motor is before
    scene.draw()


def test_a_whole_plate_is_judged_as_a_whole(scene):
    whole = {"plate": True, "plate-power": 55.0, "plate-speed": 1480.0, "plate-current": 99.0, "plate-power-factor": 0.86}
    scene.set_all(whole)
    assert scene.setup.motor.circuit.poles == 4
    with pytest.raises(ValueError, match="synchronous"):
        scene.set_all(whole | {"plate-speed": 1500.0})
    with pytest.raises(ValueError, match="plate-speed takes a number"):
        scene.set_all(whole | {"plate-speed": 9000.0})
    with pytest.raises(ValueError, match="no control"):
        scene.set_all({"plate-torque": 1})


@pytest.mark.parametrize("seed", range(1, 13))
def test_while_a_question_waits_nothing_tells_its_answer(seed):
    host = Host()
    bench = Bench(host, "slip-and-speed")
    bench.receive({"do": "ask", "seed": seed})
    hidden = {reading["symbol"] for reading in host.published["readings"] if reading["value"] == "?"}
    assert {"T", "T\N{LATIN SUBSCRIPT SMALL LETTER M}", "I", "q"} <= hidden
    shown = " ".join(f"{reading['words']} {reading['formula']}" for reading in host.published["readings"] if reading["value"] != "?")
    assert "breakdown" not in shown and "assumed" not in shown
    assert not any(sign for *_, sign in told(bench.scene.drawn).marks) and host.published["plot"] is None


KNOWN = {"plate-starting-current": 6.4, "plate-starting-torque": 2.2, "plate-breakdown-torque": 2.6}


@pytest.mark.parametrize(
    "missing", [(), ("starting-current",), ("starting-current", "breakdown-torque"), ("starting-torque", "breakdown-torque")]
)
def test_figures_that_rest_on_an_assumption_say_so(scene, missing):
    """On a plate stands the rated point; breakdown and standstill are assumed unless the catalogue's figures are entered."""
    scene.set_all({"plate": True, "load": 300} | KNOWN | {f"plate-{name}": 0.0 for name in missing})
    scene.restart()
    assert "assumed figures" not in scene.says(), "near its rated slip it is the plate that speaks"
    assert not any("rests on assumed" in reading.words for reading in scene.readings())
    for _ in range(150):
        scene.step(0.02)
    assert scene.now.slip > 3 * 60 / 1500
    words = " ".join(reading.words for reading in scene.readings())
    assert ("breakdown torque: the most it gives at the shaft, assumed: not on the nameplate" in words) == ("breakdown-torque" in missing)
    assert ("assumed: not on the nameplate" in scene.question().reason) == ("breakdown-torque" in missing)
    for figure in ("torque in the gap", "current in a line", "heat per second in the rotor"):
        assert (f"{figure} (rests on assumed figures)" in words) == bool(missing)
    assert ("by assumed figures" in scene.says()) == bool(missing)
    taken = [reading.formula for reading in scene.readings() if reading.value == "assumed"]
    # the inside of two cages is on no plate: that is assumed even where the catalogue is entered
    assert len(taken) == 1 and "how the leakage is divided" in taken[0] and all(name.replace("-", " ") in taken[0] for name in missing)
    known = [name.removeprefix("plate-") for name in KNOWN if name.removeprefix("plate-") not in missing]
    assert not any(name.replace("-", " ") in "".join(taken) for name in known)
    assert "on no nameplate" in next(reading.formula for reading in scene.readings() if reading.symbol == "B")


# usual catalogue figures (common practice, no source): kW, r/min, A, cos phi, starting current and torque, breakdown torque
DEEP_BARS = [(22, 1470, 41.0, 0.85, 7.2, 2.6, 2.9), (55, 1480, 99.0, 0.86, 7.0, 2.4, 2.7), (90, 2975, 153.0, 0.90, 7.1, 2.0, 2.7)]


@pytest.mark.parametrize("plate", DEEP_BARS)
@pytest.mark.parametrize("load", [60.0, 110.0, 300.0])
def test_a_plate_that_two_cages_meet_is_told_by_both_of_them(scene, plate, load):
    """Branch currents solved as meshes, from the ohms alone; the bars by the lag of both cages' current behind what the gap induces."""
    figures = ("power", "speed", "current", "power-factor", "starting-current", "starting-torque", "breakdown-torque")
    scene.ensure_built(Host())
    entered = {f"plate-{name}": value for name, value in zip(figures, plate, strict=True)}
    scene.set_all({"plate": True, "load": load, "lines": "L2-L1-L3"} | entered)
    scene.restart()
    for _ in range(60):
        scene.step(0.02)
    scene.draw()
    motor, slip = scene.setup.motor, scene.now.slip
    c = motor.circuit
    assert c.two_cages and scene.now.stalled == (load == 300)

    def solved(at):
        """At one slip or many at once."""
        at = np.asarray(at, float)[..., None, None]
        gap, both = 1j * c.magnetising_reactance * np.ones_like(at), 1j * c.rotor_reactance
        top, deep = c.starting_cage_resistance / at, c.rotor_resistance / at + 1j * c.running_cage_reactance
        stator, fed = np.zeros_like(gap), np.array([[c.line_voltage / np.sqrt(3)], [0], [0]])
        for _ in range(200):  # leakage that saturates is what the current leaves of it: half at the saturation current
            leakage = c.stator_reactance + c.saturable_reactance / (1 + abs(stator) / c.saturation_current)
            meshes = np.block(
                [[c.stator_resistance + 1j * leakage + gap, -gap, 0 * gap], [-gap, gap + both + top, -top], [0 * gap, -top, top + deep]]
            )
            before, (stator, rotor, running) = stator, np.moveaxis(np.linalg.solve(meshes, fed)[..., None], -3, 0)
            if np.all(abs(stator - before) < 1e-12 * abs(stator)):
                break
        heat = 3 * (abs(running) ** 2 * c.rotor_resistance + abs(rotor - running) ** 2 * c.starting_cage_resistance)
        all_of_it = stator, rotor, gap * (stator - rotor), heat, heat / at / (2 * np.pi * c.synchronous_speed)
        return [each[..., 0, 0] for each in all_of_it]

    stator, rotor, induced, heat, torque = solved(slip)
    told_of = {reading.symbol: float(reading.value.replace("\N{MINUS SIGN}", "-")) for reading in scene.readings() if reading.symbol}
    assert told_of["I"] == pytest.approx(abs(stator), abs=0.006) and told_of["T"] == pytest.approx(torque, rel=1e-4, abs=0.006)
    assert told_of["q"] == pytest.approx(heat, abs=0.6)
    # 0.8 T is taken for the field without load
    assert told_of["B"] == pytest.approx(0.8 * abs(induced / solved(1e-9)[2]), abs=6e-4)
    arrow = next(vector for letter, _, vector in told(scene.drawn).arrows if letter == "B")
    assert np.hypot(*arrow[:2]) == pytest.approx(told_of["B"], abs=6e-4)
    rated = plate[0] * 1000 / (2 * np.pi * plate[1] / 60)
    slips = np.linspace(0.002, 1, 2000)
    most = np.max(solved(slips)[4] - motor.lost * (1 - slips) * c.synchronous_speed)
    assert told_of["Tₘ"] == pytest.approx(most, rel=2e-3) and most / rated == pytest.approx(plate[6], rel=0.02)
    # the field turns counter-clockwise past the bars: each carries now what its EMF was a lag ago; v x B of a bar that moves
    # clockwise in an outward field points to +z
    lag = np.angle(induced / rotor)
    crest = np.arctan2(arrow[1], arrow[0])
    locked = abs(solved(1.0)[1])
    signs = {round(float(np.arctan2(at[1], at[0])), 3): sign for _, at, sign in told(scene.drawn).marks if sign}
    assert len(signs) > 10
    for angle, sign in signs.items():
        wave = np.cos(c.pole_pairs * (angle - crest) + lag)
        if abs(wave) > 0.02:
            assert sign == np.sign(wave)
    angles = scene.now.rotor_angle + 2 * np.pi * np.arange(15) / 15
    assert scene.now.bars == pytest.approx(abs(rotor) / locked * np.cos(c.pole_pairs * (angles - scene.now.field_angle) + lag), abs=1e-6)


def test_while_answers_are_hidden_neither_curves_nor_bars_give_them_away(scene):
    scene.ensure_built(Host())
    scene.step(0.5)
    scene.draw()
    assert any(mark.solid.visible for mark in scene.drawn.rotor.marks) and scene.plot() and scene.marks()
    scene.draw(reveals_answer=False)
    assert not any(mark.solid.visible for mark in scene.drawn.rotor.marks)
    assert scene.plot(reveals_answer=False) is None and scene.marks(reveals_answer=False) == []


def test_the_working_point_lies_on_its_curves(scene):
    scene.set_all({"load": 150, "poles": "4"})
    scene.restart()
    scene.step(0.013)
    curves = {line.name: np.array(line.points) for line in scene.plot().lines}
    for mark in scene.marks():
        x, y = curves[mark.name].T
        assert mark.y == pytest.approx(np.interp(mark.x, x, y), rel=0.02)


def test_a_motor_of_other_poles_has_not_the_speed_of_the_one_before():
    """What is said of it neither: nothing of 2850 r/min in a field of 750."""
    scene = SlipAndSpeed()
    for _ in range(20):
        scene.step(0.2)
    for poles in ("8", "2", "6"):
        scene.set("poles", poles)
        field, rotor = (float(found) for found in re.findall(r"(\d+) r/min", scene.says()))
        assert field == 120 * 50 / int(poles) and 0.9 * field < rotor <= field, scene.says()
