"""The rotating field against an MMF curve summed slot by slot, and against a field that is watched as it turns."""

from __future__ import annotations

import random
from functools import lru_cache

import numpy as np
import pytest

from scenes.bench.prediction import setup_of
from scenes.machines.turning_field.readings import strongest_group
from scenes.machines.turning_field.scene import TurningField
from scenes.machines.turning_field.windings import SLOTS, TURNS_OF_A_POLE

BELTS = (("U", 1), ("W", -1), ("V", 1), ("U", -1), ("W", 1), ("V", -1))  # of a pole pair, clockwise seen from the drive end
AROUND = 2 * np.pi * (np.arange(7200) + 0.5) / 7200


def line_currents(scene, angle: float) -> dict[str, float]:
    """Of L1, L2, L3: a third of a period apart; with one lost, half the voltage between the others drives both."""
    waves = {line: scene["current"] * np.cos(angle - 2 * np.pi * n / 3) for n, line in enumerate(("L1", "L2", "L3"))}
    if scene["lost"] == "none":
        return waves
    a, b = (line for line in waves if line != scene["lost"])
    return {scene["lost"]: 0.0, a: (waves[a] - waves[b]) / 2, b: (waves[b] - waves[a]) / 2}


def slots(scene, angle: float) -> list[tuple[float, float]]:
    """Mechanical angle of every slot and the ampere conductors in it, from the belts as a winder lays them."""
    poles = int(scene["poles"])
    count = SLOTS[poles]
    width = count // (3 * poles)  # slots of a belt
    pitch = count // poles
    of_lines = line_currents(scene, angle)
    currents = {phase: of_lines[line] for phase, line in zip("UVW", scene["lines"].split("-"), strict=True)}
    turns = TURNS_OF_A_POLE // width
    first = next((k for k in range(count) if BELTS[k // width % 6] == (scene["reversed"], 1)), None)
    wrong = () if first is None else (first, (first + pitch) % count)
    found = []
    for k in range(count):
        phase, sign = BELTS[k // width % 6]
        # the axis of U at 0: half a pitch clockwise of the middle of its first belt
        place = np.pi / poles + (width - 1) * np.pi / count - 2 * np.pi * k / count
        found.append((place, turns * sign * currents[phase] * (-1 if k in wrong else 1)))
    return found


def wave(scene, angle: float) -> complex:
    """Complex amplitude of the working wave, by adding up a curve that falls by each slot's current going counter-clockwise."""
    places, currents = zip(*slots(scene, angle), strict=True)
    curve = np.array(currents) @ steps_at(places)
    pairs = int(scene["poles"]) // 2
    return 2 * np.mean(curve * np.exp(1j * pairs * AROUND))


@lru_cache
def steps_at(places: tuple[float, ...]) -> np.ndarray:
    """Of each slot a step down there, and as much up again evenly round the bore."""
    return (AROUND - np.array(places)[:, None]) % (2 * np.pi) / (2 * np.pi) - 0.5


def settings_at_random(seed: int) -> dict:
    dice = random.Random(seed)
    scene = TurningField()
    settings = {name: dice.choice(scene.by_name[name].choices)[0] for name in ("lines", "lost", "reversed", "poles")}
    return settings | {"current": float(dice.randint(2, 20))}


@pytest.mark.parametrize("seed", range(12))
def test_amplitude_and_axis_are_those_of_the_curve_summed_slot_by_slot(seed):
    scene = TurningField()
    scene.set_all(settings_at_random(seed))
    scene.step(0.0123 / scene["frequency"] * (1 + seed))
    expected = wave(scene, scene.now.angle)
    assert scene.now.mmf_amplitude == pytest.approx(abs(expected), rel=2e-3, abs=0.5)
    if abs(expected) > 5:
        assert np.exp(1j * (scene.setup.poles / 2 * scene.now.peak - np.angle(expected))) == pytest.approx(1, abs=5e-3)


@pytest.mark.parametrize("seed", range(1, 31))
def test_the_answer_is_what_the_field_then_does(seed):
    scene = TurningField()
    scene.set_all(setup_of(scene, seed))
    scene.look(scene.views[seed % 2].name)
    waves = np.array([wave(scene, angle) for angle in np.linspace(0, 2 * np.pi, 49)])
    # the area that the tip of the field goes round: counter-clockwise positive, nothing where it goes to and fro
    area = np.sum(np.imag(np.conj(waves[:-1]) * waves[1:])) / np.max(np.abs(waves)) ** 2
    from_drive_end = "none" if abs(area) < 1e-3 else "counter-clockwise" if area > 0 else "clockwise"
    seen = {"clockwise": "counter-clockwise", "counter-clockwise": "clockwise"}.get(from_drive_end, "none") if seed % 2 else from_drive_end
    question = scene.question()
    assert question.answer == seen
    assert ("drive end" if seed % 2 == 0 else "non-drive end") in question.text


def test_steps_of_sixty_degrees_give_the_belts_and_signs_of_the_reference():
    """Six instants from the crest of U: +U, -W, +V, -U, +W, -V carry most toward the drive end, one after the other
    (IEC 60034-8: the field then turns clockwise at the drive end; the order of the belts is the winder's)."""
    scene = TurningField()
    scene.set("instants", "60")
    belts, crests = [], []
    for _ in range(6):
        belts.append(strongest_group(scene.now).replace("\N{MINUS SIGN}", "-"))
        crests.append(scene.now.peak)
        scene.one_step()
    assert belts == ["+U", "-W", "+V", "-U", "+W", "-V"]
    assert np.diff(crests) == pytest.approx(np.full(5, -np.pi / 3))  # clockwise
    assert scene.now.angle == pytest.approx(0)


@pytest.mark.parametrize("degrees", [30, 60])
def test_a_step_goes_to_the_next_numbered_instant_from_wherever_it_is(degrees):
    scene = TurningField()
    scene.set("instants", str(degrees))
    scene.step(0.0031 / 50)
    for instant in range(2, 360 // degrees + 1):
        scene.one_step()
        assert np.degrees(scene.now.angle) == pytest.approx(degrees * (instant - 1))
        assert str(scene.now.instant) == str(instant)
    scene.one_step()
    assert scene.now.angle == pytest.approx(0) and str(scene.now.instant) == "1"


@pytest.mark.parametrize("poles", [2, 4, 6, 8])
@pytest.mark.parametrize("frequency", [50.0, 60.0])
def test_the_field_keeps_synchronous_speed(poles, frequency):
    """Against the table of every handbook: 3000, 1500, 1000, 750 r/min at 50 Hz; 3600, 1800, 1200, 900 at 60 Hz."""
    scene = TurningField()
    scene.set_all({"poles": str(poles), "frequency": frequency})
    scene.restart()
    started = scene.now.peak
    for _ in range(600):
        scene.step(1 / 6000)
    table = {50.0: (3000, 1500, 1000, 750), 60.0: (3600, 1800, 1200, 900)}[frequency]
    turned = (scene.now.peak - started) / (2 * np.pi) / 0.1 * 60
    assert turned == pytest.approx(-table[poles // 2 - 1], rel=1e-6)
    told = next(reading for reading in scene.readings() if reading.words.startswith("synchronous speed"))
    assert float(told.value) == table[poles // 2 - 1]


def test_swapping_any_two_phases_turns_it_round_and_a_lost_phase_stops_it():
    scene = TurningField()
    assert scene.eye.turning(scene.now.rotation) == "clockwise"
    for value, _ in scene.by_name["lines"].choices[1:]:
        scene.set("lines", value)
        assert scene.eye.turning(scene.now.rotation) == "counter-clockwise"
    for line in ("L1", "L2", "L3"):
        scene.set("lost", line)
        assert scene.eye.turning(scene.now.rotation) == "none" and scene.now.waves[0] == pytest.approx(scene.now.waves[1])
    scene.look("other-end")
    scene.set_all({"lost": "none", "lines": "L1-L2-L3"})
    assert scene.eye.turning(scene.now.rotation) == "counter-clockwise"


@pytest.mark.parametrize("seed", range(4))
def test_the_plot_shows_the_currents_and_its_marks_lie_on_them(seed):
    scene = TurningField()
    scene.set_all(settings_at_random(seed))
    plot = scene.plot()
    assert scene.plot() is plot
    scene.step(0.0017)
    now, *marks = scene.marks()
    expected = line_currents(scene, scene.now.angle)
    for mark, line in zip(marks, plot.lines, strict=True):
        assert mark.name == line.name and mark.colour == line.colour
        assert mark.y == pytest.approx(expected[mark.name], abs=1e-9)
        assert mark.x == now.x and mark.y == pytest.approx(np.interp(mark.x, *np.array(line.points).T), abs=0.004 * 20)
    scene.set("current", 3.0 if scene["current"] != 3 else 4.0)
    assert scene.plot() is not plot


@pytest.mark.parametrize("control", ["lines", "lost", "reversed", "poles", "current", "frequency", "instants"])
def test_every_control_changes_what_is_read(control):
    scene = TurningField()
    scene.one_step()
    before = scene.readings()
    kind = scene.by_name[control]
    scene.set(control, kind.low if kind.kind == "number" else kind.choices[1][0])
    scene.restart()
    scene.one_step()
    assert scene.readings() != before
