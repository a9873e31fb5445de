"""Braking as it is shown and said, against the tests' own phasors, fields, contactors and sums of energy.

The bench's motor: 11 kW, two poles, 400 V, 50 Hz, of the starting scene: 0.415 + j0.721 ohm, two cages, 24.54 ohm magnetising; rated slip
35/1500, 0.85 T there; rotor 0.05 kg m2; bearings 2 % of rated torque. U's axis is upward, V and W follow clockwise (IEC 60034-8); direct
current goes in at U and out at V, and 0.75 u + 0.25 u^7 is the magnetising curve. A zero-speed switch opens below 2 % of 3000 r/min.
"""

from __future__ import annotations

import cmath
import math
import re

import numpy as np
import pytest

from scenes import catalogue
from scenes.bench.prediction import setup_of
from tests.oracle import in_a_loop, turning
from tests.scenes.oracle.drives.test_one_phase import angle, check_slots, named
from tests.scenes.oracle.states import reading, states, view_of

VOLTS, OMEGA, SLIP = 400 / math.sqrt(3), 100 * math.pi, 35 / 1500
A = cmath.rect(1, 2 * math.pi / 3)
WAYS = {"K1": {"1": ("L1", "U"), "3": ("L2", "V"), "5": ("L3", "W")}, "K2": {"1": ("L1", "V"), "3": ("L2", "U"), "5": ("L3", "W")}}
WAYS["K3"] = {"1": ("+", "U"), "3": ("\N{MINUS SIGN}", "V")}


def rotor_times(slip, ratio=1.0):
    """R2 + j s X2 of both cages, ohm."""
    running = 0.5926 + 2.836j * slip * ratio
    return running * 0.5011 / (running + 0.5011) + 0.721j * slip * ratio


def on_lines(slip, ratio=1.0, volts=VOLTS):
    """Current A, gap voltage V, torque N m, power drawn W, heat W in stator and rotor; slip of the field's own speed."""
    slip = np.asarray(slip, float) + 1e-12
    rotor = rotor_times(slip, ratio) / slip
    gap = 1 / (1 / rotor + 1 / (24.54j * ratio))
    current = volts / (0.415 + 0.721j * ratio + gap)
    across = 3 * np.abs(current) ** 2 * gap.real
    return current, current * gap, across / (OMEGA * ratio), 3 * volts * current.real, 3 * 0.415 * np.abs(current) ** 2, slip * across


RATED_CURRENT, RATED_GAP, RATED_TORQUE = (on_lines(SLIP)[k] for k in range(3))


def on_direct(amperes: float, share):
    """Flux over the rated and its phase, torque N m against the motion, at that share of synchronous speed or at many: sqrt(2/3) of the
    amperes magnetise as three phases of alternating current."""
    share = np.maximum(share, 1e-9)
    equivalent, rotor = math.sqrt(2 / 3) * amperes, rotor_times(share)
    low, high = 0.0 * share, 5.0 + 0.0 * share
    for _ in range(60):
        flux = (low + high) / 2
        reactance = 24.54 / (0.75 + 0.25 * flux**6)
        given = equivalent * np.abs(reactance * rotor / (1j * share * reactance + rotor)) / abs(RATED_GAP)
        low, high = np.where(given > flux, flux, low), np.where(given > flux, high, flux)
    branch = equivalent * 1j * share * reactance / (1j * share * reactance + rotor)
    phase = np.angle(reactance * rotor / (1j * share * reactance + rotor))
    return flux, phase, 3 * np.abs(branch) ** 2 * rotor.real / (OMEGA * share)


def state_of(data) -> str:
    said = named(data, "contactors")["value"]
    return {"all open": "off"}.get(said, said.removesuffix(" closed"))


def test_what_is_drawn_and_said_of_a_braking_is_true():
    met = dict.fromkeys(("K1", "K2", "K3", "off", "inverter", "feeds back", "backward", "stands"), 0)
    for scene, data in states("braking", 4.0, fixed=("slow",)):
        settings, now = data["settings"], scene.now
        side = -1 if view_of(scene)[0][2] > 0 else 1
        state, speed, time = state_of(data), now.speed, scene.state.time
        met[state] += 1
        met["backward"] += speed < -0.01
        met["stands"] += speed == 0
        assert reading(data, "n") == pytest.approx(3000 * abs(speed), abs=0.51)
        if data["view"] in ("drive-end", "circuit"):
            check_contactors(data, state)
        if state == "inverter":
            ratio = min(1.0, 1 - max(time, 0) / settings["ramp"])
            assert named(data, "contactors")["formula"].startswith(f"{max(50 * ratio, 0):.1f} Hz")
        else:
            ratio = 1.0
        check_figures(data, settings, state, speed, ratio, time)
        check_energy(data, scene, settings)
        check_words(data, state, speed, side, met, ratio)
    assert all(met.values()), met


def check_figures(data, settings, state, speed, ratio, time):
    arrows = {arrow["letter"]: arrow["vector"] for arrow in data["arrows"]}
    if state == "off" or state == "inverter" and ratio < 0.02:
        assert reading(data, "T") == reading(data, "I") == reading(data, "P") == 0 and "B" not in arrows and "T" not in arrows
        return
    way = -1 if state == "K2" else 1
    if state == "K3":
        amperes = settings["direct"] / 100 * abs(RATED_CURRENT)
        flux, phase, torque = on_direct(amperes, abs(speed))
        torque *= -np.sign(speed)
        assert reading(data, "I") == pytest.approx(amperes, abs=0.06)
        assert reading(data, "P") == pytest.approx(2 * 0.415 * amperes**2 / 1000, abs=0.006)
        pointing = 120 - math.degrees(float(phase)) * (np.sign(speed) or 1)
        currents, seen = np.array([1, -1, 0]) * amperes, 1.0
    else:
        volts = (10 + 390 * ratio) / math.sqrt(3)
        current, gap, torque, drawn, _, _ = on_lines((ratio - way * speed) / ratio, ratio, volts)
        torque = way * torque
        flux = abs(gap) / ratio / abs(RATED_GAP)
        assert reading(data, "I") == pytest.approx(abs(current), abs=0.08)
        assert reading(data, "P") == pytest.approx(drawn / 1000, abs=0.03)
        assert reading(data, "nₛ") == pytest.approx(3000 * ratio, abs=0.6)
        seen = cmath.rect(1, OMEGA * time)
        pointing = 90 - math.degrees(cmath.phase(gap / 1j * seen)) if way > 0 else -30 + math.degrees(cmath.phase(gap / 1j * seen))
        currents = current * (np.array([A**2, 1, A]) if way < 0 else np.array([1, A**2, A]))
    assert reading(data, "T") == pytest.approx(float(torque), abs=0.35 if state == "inverter" else 0.06)
    if data["view"] in ("circuit", "energy"):  # from near, these are alone
        return
    assert math.hypot(*arrows["B"]) == pytest.approx(0.85 * flux, abs=4e-3)
    if state != "inverter":
        assert abs(math.remainder(angle(arrows["B"]) - pointing, 360)) < 0.2
        check_slots(data, True, currents, seen)
    if abs(torque) > 0.06 * RATED_TORQUE:  # a shorter arrow is not drawn
        assert arrows["T"][2] == pytest.approx(-float(torque), abs=0.4)


def check_contactors(data, state):
    drawn = {(lead["from"][8:], lead["to"][8:]) for lead in data["leads"] if not lead["through"]}
    through = {lead["through"] for lead in data["leads"]}
    if state == "inverter" or "diagram inverter" in through:
        assert not drawn and "diagram rectifier" not in through
        return
    for name, ways in WAYS.items():
        for pole, (start, end) in ways.items():
            assert (start, f"{name} {pole}") in drawn and (f"{name} {int(pole) + 1}", end) in drawn
        assert (f"diagram {name}" in through) == (state == name)
    flowing = {"U": state != "off", "V": state != "off", "W": state in ("K1", "K2")}
    for phase, flows in flowing.items():
        assert in_a_loop(data["leads"], f"diagram winding {phase}") == flows


def check_energy(data, scene, settings):
    """What was in motion and what the lines gave is heat, is with the load, or is still in motion; the bars are as long as is said."""
    motion, rotor, stator, taken, drawn = scene.now.energies
    moved = sum(abs(part) for part in (motion, rotor, stator, taken, drawn))
    assert motion + rotor + stator + taken - drawn == pytest.approx(1, abs=0.01 * moved)
    inertia = 0.05 * (1 + settings["inertia"])
    whole = 0.5 * inertia * OMEGA**2
    held = RATED_TORQUE * (0.02 if settings["method"] == "load" else 0.02 + settings["friction"] / 100)
    slips = np.linspace(1e-5, 0.08, 8000)
    begins = whole * (1 - np.interp(held, on_lines(slips)[2], slips)) ** 2
    assert named(data, "energy in motion")["value"] == pytest.approx(whole * scene.now.speed**2 / 1000, abs=0.006)
    assert reading(data, "W") == pytest.approx(rotor * begins / 1000, rel=1e-3, abs=0.006)
    if data["view"] not in ("drive-end", "energy"):
        return
    bars = {needle["words"][8:]: needle["vector"][0] for needle in data["needles"] if needle["words"].startswith("energy")}
    beside = {needle["words"][8:]: needle["at"] for needle in data["needles"] if needle["words"].startswith("energy")}
    assert "× energy at start" in [letter["text"] for letter in data["letters"]]
    told = {"in motion": motion, "rotor heat": rotor, "stator heat": stator, "to the load": taken, "from the lines": drawn}
    for name, value in told.items():
        if 0.02 < abs(value) and -2.1 < value < 8.1:
            assert bars[name] == pytest.approx(value, abs=2e-3)
        (words, at) = next((each["text"], each["at"]) for each in data["letters"] if each["text"].startswith(name))
        if name in bars:
            assert min(beside, key=lambda each: abs(beside[each][1] - at[1])) == name, "the name is at its own bar"
        assert float(words.split()[-1].replace("\N{MINUS SIGN}", "-")) == pytest.approx(value, abs=0.006)


def check_words(data, state, speed, side, met, ratio):
    said = data["says"]
    end = "the drive end" if side > 0 else "the non-drive end"
    direction = turning(-speed, side)
    assert end in said
    assert ("the shaft is at standstill" if direction == "none" else f"the shaft turns {direction}") in said
    if "before the braking" in said:
        return
    if state in ("K1", "K2"):
        assert f"the field rotates {turning(1 if state == 'K2' else -1, side)}" in said
    assert ("stands still" in said) == (state == "K3")
    assert ("not followed" in said) == (speed > 1.8)
    opened = re.search(r"zero-speed switch opened the contactor just before standstill, at (\d+) r/min", said)
    assert bool(opened) == (state == "off" and data["settings"]["zero"] and data["settings"]["method"] in ("plug", "dc"))
    if opened:
        assert max(50, 3000 * abs(speed) - 1) <= int(opened[1]) <= 60
        assert opened[0].split(" opened ")[1] in named(data, "zero-speed switch")["formula"]
    torque = reading(data, "T") * speed
    if abs(reading(data, "T")) > 0.2 and speed:
        assert ("the motor drives it" in said) == (torque > 0) and ("the motor brakes it" in said) == (torque < 0)
    met["feeds back"] += "feeds power back" in said
    if abs(reading(data, "P")) > 0.02:
        assert ("feeds power back" in said) == (reading(data, "P") < 0)


def heat_share(settings) -> float:
    """Rotor heat over the energy of motion until the zero-speed switch opens, the speed falling by J dw = -(T + friction) dt."""
    friction = (settings["friction"] / 100 + 0.02) * RATED_TORQUE
    speeds = np.linspace(0.02, 1.0, 201)
    if settings["method"] == "plug":
        _, _, torque, _, _, loss = on_lines(1 + speeds)
    else:
        amperes = settings["direct"] / 100 * abs(RATED_CURRENT)
        torque = on_direct(amperes, speeds)[2]
        loss = torque * speeds * OMEGA
    return float(np.trapezoid(loss / (torque + friction), speeds)) * 2 / OMEGA


def expected_answer(settings) -> str:
    """By the torque at standstill, the largest that it can be driven with, and friction."""
    friction = (settings["friction"] / 100 + 0.02) * RATED_TORQUE
    if settings["method"] == "load":
        most = float(np.max(-on_lines(-np.linspace(1e-3, 1.0, 4000))[2]))
        return "on" if settings["weight"] / 100 * RATED_TORQUE - 0.02 * RATED_TORQUE < most else "away"
    if settings["method"] == "plug" and not settings["zero"]:
        return "reverses" if float(on_lines(1.0)[2]) > friction else "stops"
    return "stops"


def test_the_answers_are_those_of_torque_and_energy():
    scene = next(iter(states("braking", 0.0, count=1)))[0]
    met = {}
    for seed in range(1, 76):
        scene.set_all({control.name: control.default for control in scene.controls} | setup_of(scene, seed))
        question, settings = scene.question(), scene.settings
        assert not re.search(r"\b0 %", question.text)
        if settings["asked"] == "result":
            assert question.answer == expected_answer(settings), settings
        elif settings["method"] in ("plug", "dc"):
            share = heat_share(settings)
            assert f"{share:.1f}" in question.reason or abs(_told_share(question.reason) - share) < 0.04
            assert question.answer == ("least" if share < 0.25 else "once" if share < 1.5 else "three")
            assert share < 0.2 or min(abs(share - 1), abs(share - 3) / 3) <= 0.2, "one choice is clearly right"
        else:  # nothing flows, or the slip stays small
            assert question.answer == "least" and _told_share(question.reason) < 0.15
        met[question.answer] = met.get(question.answer, 0) + 1
    assert all(met.get(each, 0) >= 2 for each in ("stops", "reverses", "on", "away", "least", "once", "three")), met


def _told_share(reason: str) -> float:
    return float(reason.split(": ")[-1].split()[0])


def test_down_a_ramp_rotor_and_stator_are_each_heated_by_their_own_current():
    """Summed up along the ramp, by the tests' own circuit at each instant's speed and frequency."""
    scene = catalogue.scene_class("braking")()
    scene.set_all({"method": "inverter", "ramp": 2.0, "inertia": 4.0, "friction": 20.0})
    scene.step(1e-9)
    begins = 0.5 * 0.05 * 5 * (OMEGA * scene.now.speed) ** 2
    times, losses = [], []
    while (time := scene.state.time) < 1.8:
        if time >= 0:
            ratio = 1 - time / 2.0
            *_, stator, rotor = on_lines((ratio - scene.now.speed) / ratio, ratio, (10 + 390 * ratio) / math.sqrt(3))
            times.append(time)
            losses.append((float(rotor), float(stator)))
        scene.step(0.002)
    _, rotor, stator, _, _ = scene.now.energies
    expected = np.trapezoid(losses, times, axis=0)
    assert expected[0] > 0.02 * begins and expected[1] > 1.1 * expected[0]
    assert (rotor * begins, stator * begins) == pytest.approx(expected, rel=0.02)
