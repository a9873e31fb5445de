"""Changing speed: poles and speeds counted from the slots themselves, answers from 120 f / poles."""

from __future__ import annotations

import numpy as np
import pytest

from scenes.bench.prediction import setup_of
from scenes.drives.changing_speed.motors import SLOTS, connections, tapped_alone
from scenes.drives.changing_speed.picture import name_of
from scenes.drives.changing_speed.scene import ChangingSpeed
from scenes.scene.phases import REGIONS
from visual.host.server import Host


@pytest.fixture
def scene():
    return ChangingSpeed()


def ways():
    yield {"method": "inverter", "frequency": 25}, 4
    for poles in (2, 4):
        yield {"method": "one-tapped-winding", "tapped": str(poles)}, poles
    for poles in (2, 4, 6, 12):
        yield {"method": "two-windings", "joined": str(poles)}, poles


def strongest_wave(scene) -> tuple[int, float]:
    """Poles and outward peak, mechanical rad, of the strongest wave of the MMF of balanced currents at this instant of the
    supply, by summing slot currents round the bore."""
    lines = [int(line[1]) - 1 for line in scene["lines"].split("-")]
    currents = [np.cos(scene.state.angle - 2 * np.pi * n / 3) for n in lines]
    per_slot, angles = scene.setup.coils.slot_currents(currents), np.asarray(scene.setup.coils.slot_angles)
    waves = {pairs: np.sum(per_slot * np.exp(1j * pairs * angles)) for pairs in range(1, SLOTS // 2)}
    pairs = max(waves, key=lambda n: abs(waves[n]) / n)
    # a current at angle a toward +z sends flux outward a quarter of a wave further clockwise
    crest = (np.angle(waves[pairs]) - np.pi / 2) / pairs
    return 2 * pairs, crest


@pytest.mark.parametrize(("settings", "poles"), list(ways()))
def test_the_slots_make_the_poles_and_the_field_turns_at_120_f_over_poles(scene, settings, poles):
    # IEC 60034-1 and common nameplates: 50 Hz gives 3000, 1500, 1000, 500 r/min for 2, 4, 6, 12 poles
    scene.set_all(settings)
    scene.restart()
    counted, before = strongest_wave(scene)
    stood = scene.now.peak
    assert counted == poles
    seconds = 0.1 / scene.setup.frequency
    scene.step(seconds)
    _, after = strongest_wave(scene)
    period = 2 * np.pi / (poles / 2)
    turned = (after - before + period / 2) % period - period / 2
    assert 60 * turned / (2 * np.pi) / seconds == pytest.approx(-120 * scene.setup.frequency / poles, rel=1e-6)
    # the field in the gap goes on with it, some angle behind the voltage
    assert ((scene.now.peak - stood - turned + period / 2) % period - period / 2) == pytest.approx(0, abs=2e-3)


def test_four_speeds_and_two(scene):
    assert sorted(connections()) == [2, 4, 6, 12] and sorted(tapped_alone()) == [2, 4]
    scene.set("method", "two-windings")
    assert scene.setup.speeds == [500, 1000, 1500, 3000]
    scene.set("method", "one-tapped-winding")
    assert scene.setup.speeds == [1500, 3000]


def test_all_connections_turn_the_same_way_and_two_lines_exchanged_the_other(scene):
    for settings, _ in ways():
        scene.set_all(settings | {"lines": "L1-L2-L3"})
        assert scene.setup.sense == -1.0  # IEC 60034-8: clockwise seen from the drive end
        scene.set("lines", "L2-L1-L3")
        assert scene.setup.sense == 1.0


def test_from_fast_to_slow_it_brakes_down_to_its_new_speed(scene):
    scene.set_all({"method": "one-tapped-winding", "tapped": "2", "load": 0})
    scene.restart()
    scene.set("tapped", "4")
    assert scene.now.slip < -0.9
    for _ in range(200):
        scene.step(0.02)
    assert 60 * abs(scene.state.moment.speed) == pytest.approx(1500, rel=1e-3)


def test_the_inverter_holds_volts_per_hertz_and_weakens_the_field_above(scene):
    scene.set("frequency", 50)
    full = scene.setup.volts
    scene.set("frequency", 100)
    assert full == pytest.approx(400) and scene.setup.volts == pytest.approx(400)
    scene.set_all({"frequency": 25, "load": 0})
    scene.restart()
    half = scene.now.field
    for frequency, share in ((50, 1), (100, 0.5)):
        scene.set("frequency", frequency)
        scene.restart()
        assert scene.now.field == pytest.approx(share * half, rel=0.05)


def seen_to_turn(scene) -> str:
    """Which way the strongest wave goes in a short time, as seen from the drive end: by summing slot currents."""
    _, before = strongest_wave(scene)
    scene.step(0.02 / scene.setup.frequency)
    _, after = strongest_wave(scene)
    period = 4 * np.pi / scene.setup.poles
    return "counter-clockwise" if (after - before + period / 2) % period > period / 2 else "clockwise"


def test_questions_come_out_as_speeds_counted_and_torques_searched(scene):
    answers = set()
    for seed in range(1, 80):
        scene.set_all(setup_of(scene, seed))
        scene.restart()
        question = scene.question()
        answers.add(question.answer)
        speed = round(120 * scene.setup.frequency / scene.setup.poles)
        assert question.answer in [value for value, _ in question.choices]
        assert len({value for value, _ in question.choices}) == len(question.choices) >= 3
        if scene["method"] == "one-tapped-winding":
            assert question.answer == f"{speed}-{seen_to_turn(scene)}"
        elif scene["method"] == "inverter" and scene.setup.frequency > 50:
            # twice the frequency on the same voltage leaves about a quarter (constant-power range, any textbook of drives)
            slips = np.linspace(0.001, 1, 4000)
            most = scene.setup.circuit.at(slips).torque.max()
            scene.set("frequency", 50)
            share = most / scene.setup.circuit.at(slips).torque.max()
            times = speed / 1500
            assert question.answer == "squared" and share == pytest.approx(times**-2, rel=0.35)
        else:
            assert question.answer == str(speed)
    assert {"squared", "500", "1000", "1500-clockwise", "1500-counter-clockwise", "3000-clockwise"} <= answers


def test_both_speeds_turn_clockwise_as_marked_and_the_low_one_back_with_two_leads_swapped(scene):
    for leads, low in (("alike", "clockwise"), ("exchanged", "counter-clockwise")):
        for tapped, expected in (("2", "clockwise"), ("4", low)):
            scene.set_all({"method": "one-tapped-winding", "leads": leads, "tapped": tapped})
            scene.restart()
            assert seen_to_turn(scene) == expected


def test_the_slots_are_drawn_as_they_are_joined(scene):
    """Letters, signs and colours of the sides at the bottom of the slots, against the coils themselves."""
    scene.ensure_built(Host())
    region = REGIONS["iec"]
    for settings, poles in ways():
        for lines in ("L1-L2-L3", "L3-L2-L1"):
            scene.set_all(settings | {"lines": lines})
            scene.restart()
            scene.draw()
            machine = scene.drawn.machine
            name = name_of(scene.setup)
            assert [each for each, stator in machine.stators.items() if stator.visible] == [name]
            assert [n for n, field in machine.fields.items() if field.visible] == [poles]
            groups = machine.stators[name].groups
            assert 6 <= len(groups) <= 36
            for _, _, letters, angle in groups:
                slot = int(np.argmin(np.abs(np.exp(1j * scene.setup.coils.slot_angles) - np.exp(1j * angle))))
                side = [side for side in scene.setup.coils.slot_table if side.slot == slot][1]
                assert letters.text[0] == ("+" if side.sign > 0 else "\N{MINUS SIGN}")
                colour = region.colours[
                    int(lines.split("-")["UVW".index(side.phase)][1]) - 1
                ]  # coils are named by the lines that feed them
                ground = letters.drawn.background
                assert (ground.x, ground.y, ground.z) == pytest.approx(colour)


def test_a_tapped_winding_keeps_its_coils_and_turns_half_its_signs(scene):
    """The same coils in the same slots at both speeds, all alike at the slow one (the principle of Dahlander); what is fed by
    the end 1V at low speed is fed by the tap 2W at high speed."""
    scene.ensure_built(Host())
    slow, fast = (scene.drawn.machine.stators[name].groups for name in ("4", "2"))
    tap_of = {0: 0, 1: 2, 2: 1}
    assert [(tap_of[phase], round(angle, 6)) for phase, _, _, angle in slow] == [(phase, round(angle, 6)) for phase, _, _, angle in fast]
    assert {sign for _, sign, _, _ in slow} == {-1}
    assert sorted(sign for _, sign, _, _ in fast) == [-1] * 3 + [1] * 3


def test_too_much_load_stalls_it_and_hidden_answers_show_no_field_and_no_curves(scene):
    scene.set_all({"method": "inverter", "frequency": 100, "load": 150})
    for _ in range(100):
        scene.step(0.02)
    assert scene.state.moment.speed == 0
    scene.ensure_built(Host())
    scene.draw(reveals_answer=False)
    assert scene.plot(reveals_answer=False) is None and scene.marks(reveals_answer=False) == []
    assert not any(field.visible for field in scene.drawn.machine.fields.values())
