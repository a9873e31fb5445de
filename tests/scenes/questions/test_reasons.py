"""Reasons asked for: of each that is offered, the test decides from the question's words and the settings whether it is so, by what is
written down here; exactly the right answer must be, and each named mistake must be the one that makes the others.

Laws: textbook knowledge (memory); plates: the lower voltage is that of a winding (common practice, IEC 60034-8 for the letters).
"""

from __future__ import annotations

import math
import re

import pytest

from scenes import catalogue
from scenes.questions.mistakes import mistake_in
from tests import oracle
from tests.scenes.oracle.drives.test_one_phase import plain, torque_of
from tests.scenes.questions.drawn import Put, of_kind
from tests.scenes.questions.test_directions import FLEMING, on_the_wire, sign, times, words

ROOT3 = math.sqrt(3)


def near(told: str, wanted: float) -> bool:
    return math.isclose(float(told), wanted, rel_tol=0.01, abs_tol=0.006)


def two_wires(put: Put, reason: str) -> str | None:
    """The mistake in a reason: "" for none, None for one that has no name."""
    points, hand, pushed = re.fullmatch(r"the field there points (.+), so by the (.+) hand it is pushed (.+)", reason).groups()
    side = {"left": -1.0, "right": 1.0}[put.settings["wire"]]
    flows = {name: (0.0, 0.0, sign(put.settings[control])) for name, control in (("left", "current"), ("right", "other"))}
    asks = r"(?:Both currents flow (?P<both>.+?)|The current in the left wire flows (?P<left>.+), that in the right wire (?P<right>.+?))"
    both = re.match(asks + r"\. Why", put.question.text)
    assert {name: both[name] or both["both"] for name in flows} == {name: words("two-wires", flow) for name, flow in flows.items()}
    field = oracle.cross(flows["right" if put.settings["wire"] == "left" else "left"], (side, 0.0, 0.0))
    right = (words("two-wires", field), "left", words("two-wires", on_the_wire(put.settings)))
    backwards = words("two-wires", times(-1.0, on_the_wire(put.settings)))
    return {right: "", (right[0], "right", backwards): "other hand"}.get((points, hand, pushed))


def field_round_a_wire(put: Put, reason: str) -> str | None:
    hand, thumb = re.fullmatch(r"(left|right) hand, thumb (.+)", reason).groups()
    flows = (0.0, sign(put.settings["current"]), 0.0)
    name = put.scene
    if thumb == words(name, flows):
        return "" if hand == "right" else "other hand"
    found = {words(name, times(-1.0, flows)): "electron flow", "outward": "along instead of across"}
    return found[thumb] if hand == "right" else None


def one_phase(put: Put, reason: str) -> str | None:
    """Which of two fields is the stronger at standstill."""
    side = -1.0 if "non-drive end" in put.question.text else 1.0
    torque = torque_of(plain(put.settings), 0.0, True)  # clockwise looking at the drive end positive
    turns = 0.0 if abs(torque) < 1e-6 else -torque
    right = f"the one that turns {oracle.turning(turns, side)} is the stronger" if turns else "the two are equal"
    if reason == right:
        return ""
    return "seen from the other end" if turns and "turns" in reason else None


def alternator(put: Put, reason: str) -> str | None:
    cycles, turns = re.fullmatch(r"(\d+) cycles? in a revolution, (\S+) revolutions in a second", reason).groups()
    poles, rpm, _ = put.numbers
    if int(cycles) == poles / 2:
        return "" if near(turns, rpm / 60) else "minutes for seconds" if near(turns, rpm) else None
    return {poles: "poles for pole pairs", 1: "the number of poles left out"}[int(cycles)] if near(turns, rpm / 60) else None


def turning_field(put: Put, reason: str) -> str | None:
    order, follow = re.fullmatch(r"the currents peak in the order (\S+), and the axes of U, V, W follow each other (.+)", reason).groups()
    lines = put.settings["lines"].split("-")
    peaks = ["UVW"[lines.index(line)] for line in ("L1", "L2", "L3")]
    right = "-".join(peaks[(peaks.index("U") + k) % 3] for k in range(3))
    side = -1.0 if "non-drive end" in put.question.text else 1.0
    follows = oracle.turning(-1.0, side)  # IEC 60034-8: clockwise looking at the drive end
    if order == right:
        return "" if follow == follows else "seen from the other end"
    return "phase order left out" if order == "U-V-W" and follow == follows else None


def laying(put: Put, reason: str) -> str | None:
    step, between = re.fullmatch(r"from slot to slot it is (\S+)°, and from U to V (\S+)°", reason).groups()
    slots, poles = put.numbers[:2]
    one = 180 * poles / slots
    of = {"": one, "poles for pole pairs": 2 * one, "mechanical for electrical angle": 360 / slots}
    return next((mistake for mistake, angle in of.items() if near(step, angle) and between == "120"), None)


def slip_and_speed(put: Put, reason: str) -> str | None:
    rpm, hertz = re.fullmatch(r"the field passes the bars at (\S+) r/min, and induces currents of (\S+) Hz in them", reason).groups()
    poles, fed, rotor = put.numbers[:3]
    field = 120 * fed / poles
    assert near(hertz, fed * float(rpm) / field) or abs(float(hertz) - fed * float(rpm) / field) < 0.6 * fed / field
    for mistake, passing in (("", field - rotor), ("sum instead of difference", field + rotor), ("rotor for field", rotor),
                             ("poles for pole pairs", (field - rotor) / 2), ("minutes for seconds", (field - rotor) / 60)):  # fmt: skip
        if abs(float(rpm) - passing) < 0.6:
            return mistake
    return None


def changing_speed(put: Put, reason: str) -> str | None:
    cycles, unit, turn = re.fullmatch(r"(\S+) cycles in a (second|minute), and (\d+) of them to a revolution", reason).groups()
    poles, hertz = put.numbers[:2]
    if float(cycles) != hertz or unit != "second":
        return None
    return "" if int(turn) == poles / 2 else "poles for pole pairs" if int(turn) == poles else None


def terminal_box(put: Put, reason: str) -> str | None:
    made, joined, gets = re.fullmatch(r"a winding is made for (\d+) V, and in (star|delta) it gets (\d+) V", reason).groups()
    lower, upper, supply = map(float, re.search(r"(\d+)/(\d+) V.*supply is (\d+) V", put.question.text).groups())
    own = {"star": supply / ROOT3, "delta": supply}
    other = own["delta" if joined == "star" else "star"]
    made_for, right = abs(float(made) - lower) < 1.5, abs(float(gets) - own[joined]) < 1.5
    assert joined == ("star" if abs(supply - upper) < 1 else "delta")
    if made_for and right:
        return ""
    return "star and delta exchanged" if not made_for and abs(float(gets) - other) < 1.5 else None


def starting(put: Put, reason: str) -> str | None:
    """Star-delta gives a winding 1 / sqrt 3 of its voltage, a transformer the share of its tap; torque goes with the square."""
    voltage, goes, torque = re.fullmatch(r"a winding has (\S+(?: %)?) of its voltage, and torque goes (.+): ([\d.]+) N m", reason).groups()
    full, *tap = put.numbers
    share = tap[0] / 100 if tap else 1 / ROOT3
    reduced = f"{tap[0]:g} %" if tap else "1/√3"
    found = {
        (reduced, "with the square of that", share**2): "",
        (reduced, "in proportion to that", share): "in proportion for the square",
        ("100 %", "with the square of that", 1.0): "an effect left out",
    }
    for (percent, power, left), mistake in found.items():
        if (voltage, goes) == (percent, power):
            assert math.isclose(float(torque), full * left, abs_tol=0.051), (put.question.text, reason)
            return mistake
    return None


def braking(put: Put, reason: str) -> str | None:
    method, watched = put.settings["method"], put.settings["zero"]
    so = {
        "its field turns against the shaft, and nothing switches it off at standstill": method == "plug" and not watched,
        "its field turns against the shaft, and a zero-speed switch takes it away": method == "plug" and watched,
        "its field stands still, and drives nothing": method not in ("plug", "coast"),
        "it has no field, and only load and bearings act": method == "coast",
    }
    return "" if so[reason] else None


def synchronous(put: Put, reason: str) -> str | None:
    if "slower" in reason or "faster" in reason:
        return "slip where there is none" if "slower" in reason else None
    return "" if ("is less than" in reason) is ("current lags" in put.question.text) else "more and less exchanged"


REASONS = {
    "field-round-a-wire": field_round_a_wire,
    "two-wires": two_wires,
    "alternator": alternator,
    "turning-field": turning_field,
    "laying-the-winding": laying,
    "slip-and-speed": slip_and_speed,
    "changing-speed": changing_speed,
    "terminal-box": terminal_box,
    "one-phase": one_phase,
    "starting": starting,
    "braking": braking,
    "synchronous-motor": synchronous,
}


@pytest.mark.parametrize("name", REASONS)
def test_of_the_reasons_only_the_right_one_is_so_and_each_mistake_is_the_one_that_is_named(name):
    for put in of_kind(name, "why"):
        for value, reason in put.question.choices:
            mistake = REASONS[name](put, reason)
            assert (mistake == "") is (value == put.question.answer), (put.question.text, reason)
            assert mistake_in(put.question, value) in ((mistake or None), None), (put.question.text, reason)
            if value != put.question.answer and mistake:
                assert mistake in put.question.may_be(value), (put.question.text, reason)


def test_every_scene_has_its_reasons_judged_somewhere():
    judged = set(REASONS) | set(FLEMING) | {"instruments", "inside-a-motor"}
    without = set(catalogue.NAMES) - judged
    assert not without, (
        f"REASONS wants {without}: the mistake in a reason, '' for none (or FLEMING in test_directions.py, if it is one of a hand)"
    )
    assert judged == set(catalogue.NAMES)
