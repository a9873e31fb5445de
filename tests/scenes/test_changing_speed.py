"""Changing speed: poles and speeds counted from the slots themselves, answers from 120 f / poles."""

from __future__ import annotations

import numpy as np
import pytest

from scenes.changing_speed import SLOTS, ChangingSpeed, connections, tapped_alone
from scenes.prediction import setup_of
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


def strongest_wave(coils, currents) -> tuple[int, float]:
    """Poles and crest, mechanical rad, of the strongest wave of the MMF, by summing slot currents round the bore."""
    per_slot = coils.slot_currents(currents)
    # slots are numbered clockwise: currents toward +z at angle a give outward flux that rises with their sum beyond a
    angles = np.asarray(coils.slot_angles)
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
    counted, before = strongest_wave(scene.coils, scene.currents)
    assert counted == poles
    seconds = 0.1 / scene.frequency
    scene.step(seconds)
    _, after = strongest_wave(scene.coils, scene.currents)
    period = 2 * np.pi / (poles / 2)
    turned = (after - before + period / 2) % period - period / 2
    assert 60 * turned / (2 * np.pi) / seconds == pytest.approx(-120 * scene.frequency / poles, rel=1e-6)
    assert ((scene.crest - after + period / 2) % period - period / 2) == pytest.approx(0, abs=1e-9)


def test_four_speeds_and_two(scene):
    assert sorted(connections()) == [2, 4, 6, 12] and sorted(tapped_alone()) == [2, 4]
    scene.set("method", "two-windings")
    assert scene.speeds == [500, 1000, 1500, 3000]
    scene.set("method", "one-tapped-winding")
    assert scene.speeds == [1500, 3000]


def test_all_connections_turn_the_same_way_and_two_lines_exchanged_the_other(scene):
    for settings, _ in ways():
        scene.set_all(settings | {"lines": "L1-L2-L3"})
        assert scene.sense == -1.0  # IEC 60034-8: clockwise seen from the drive end
        scene.set("lines", "L2-L1-L3")
        assert scene.sense == 1.0


def test_from_fast_to_slow_it_brakes_down_to_its_new_speed(scene):
    scene.set_all({"method": "one-tapped-winding", "tapped": "2", "load": 0})
    scene.restart()
    scene.set("tapped", "4")
    assert scene.slip < -0.9
    for _ in range(200):
        scene.step(0.02)
    assert 60 * abs(scene.moment.speed) == pytest.approx(1500, rel=1e-3)


def test_the_inverter_holds_volts_per_hertz_and_weakens_the_field_above(scene):
    scene.set("frequency", 50)
    full = scene.flux
    scene.set("frequency", 100)
    assert full == pytest.approx(1) and scene.flux == pytest.approx(0.5)


def test_questions_come_out_as_120_f_over_poles(scene):
    for seed in range(1, 60):
        scene.set_all(setup_of(scene, seed))
        scene.restart()
        question = scene.question()
        assert float(question.answer) == pytest.approx(120 * scene.frequency / scene.poles)
        assert len({value for value, _ in question.choices}) == len(question.choices) >= 3


def test_one_winding_is_seen_at_a_time_with_a_letter_for_each_belt(scene):
    scene.build(Host())
    for settings, poles in ways():
        scene.set_all(settings)
        scene.restart()
        scene.draw()
        machine = scene.machine
        assert [way for way, stator in machine.stators.items() if stator.visible] == [scene.way]
        shown = [letters.text for letters in machine.stators[scene.way].letters if letters.visible]
        assert 6 <= len(shown) <= 36 and {text[1] for text in shown} == set("UVW")
        assert [n for n, field in machine.fields.items() if field.visible] == [poles]
