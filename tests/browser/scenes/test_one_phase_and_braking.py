"""One phase and braking in a real browser: the two fields, the centrifugal switch, contactors and where the energy goes."""

from __future__ import annotations

import math

import numpy as np
import pytest

from scenes.drives.braking.scene import Braking
from scenes.drives.one_phase.scene import OnePhase
from tests.browser.page.letters_seen import LOOK, Projection

USUAL = {control.name: control.default for control in OnePhase.controls}


def value(page, words: str) -> float:
    """Of the reading whose words begin so."""
    found = next(each["value"] for each in page.told("readings") if each["words"].startswith(words))
    return float(found.replace("\N{MINUS SIGN}", "-"))


@pytest.mark.parametrize(
    "settings", [{"auxiliary": "main", "start": "clockwise"}, {"motor": "three", "start": "running"}, {"ends": "swapped"}]
)
def test_the_field_is_drawn_as_the_sum_of_two_that_turn_against_each_other(page, settings):
    drawn = page.stepped(OnePhase(), USUAL | settings, 9)
    parts = [np.array(drawn[f"one-phase-{name}"]["axis"]) for name in ("forward", "backward")]
    whole = np.array(drawn["one-phase-sum"]["axis"])
    # the shaft of an arrow is as long as the arrow less its head, so directions are compared, and which way each goes
    before = [math.atan2(part[1], part[0]) for part in parts]
    page.send(do="step")
    page.settle()
    after = [page.drawn(f"one-phase-{name}")["axis"] for name in ("forward", "backward")]
    turned = [math.remainder(math.atan2(one[1], one[0]) - angle, 2 * math.pi) for one, angle in zip(after, before, strict=True)]
    assert turned[0] < -0.05 and turned[1] > 0.05, "the one clockwise, the other counter-clockwise"
    between = np.cross(parts[0], whole)[2], np.cross(whole, parts[1])[2]
    assert between[0] * between[1] >= -1e-9, "the sum lies between them"


def test_the_centrifugal_switch_opens_as_it_runs_up(page):
    page.set_up("one-phase", USUAL | {"auxiliary": "start"})
    assert page.drawn("one-phase-contact")["visible"] and value(page, "speed of the rotor") == 0
    page.send(do="run", on=True)
    page.wait_for("() => !window.stream.drawn('one-phase-contact').visible")
    page.send(do="run", on=False)
    page.settle()
    assert value(page, "speed of the rotor") >= 0.7 * 3000 and value(page, "current of the auxiliary winding") == 0


def test_what_would_answer_is_hidden_until_it_is_answered(page):
    page.set_up("one-phase", USUAL | {"auxiliary": "main"})
    page.send(do="ask", seed=2)
    page.wait_for("() => window.bench.socket.told.question !== null")
    page.settle()
    seen = page.drawn_all()
    assert not {"one-phase-forward", "one-phase-backward", "one-phase-path", "one-phase-torque"} & set(seen)
    page.send(do="enough")
    page.settle()


@pytest.mark.parametrize(("method", "closed"), [("plug", "K2"), ("dc", "K3"), ("coast", None), ("load", "K1")])
def test_each_braking_closes_its_contactor_and_none_else(page, method, closed):
    drawn = page.stepped(Braking(), {"method": method, "slow": "1"}, 20)
    assert {name for name in ("K1", "K2", "K3") if f"braking-{name}" in drawn} == ({closed} if closed else set())
    # none of what was in motion is heat in the rotor while it coasts, and next to nothing while its load drives it
    assert ("braking-rotor-heat" in drawn) == (method in ("plug", "dc"))


def test_on_a_telephone_no_energys_name_lies_on_a_bar(page):
    page.set_up("braking", {"method": "plug", "zero": True})
    page.tab.set_viewport_size({"width": 390, "height": 844})
    page.settle()
    look = page.tab.evaluate(LOOK, [[], 0])[0][0]
    project = Projection(look["camera"], look["size"])
    bars = ("in motion", "rotor heat", "stator heat", "to the load", "from the lines")
    names = {text: box for text, box in look["letters"] if text.startswith(bars)}
    assert len(names) >= 4
    for bar in bars:
        x, y, _ = page.drawn(f"braking-{bar.replace(' ', '-')}")["pos"]
        (_, top), (_, bottom) = project([[x, y + 0.0075, 0.006], [x, y - 0.0075, 0.006]])
        for text, (_, above, _, below) in names.items():
            assert below <= top + 1 or above >= bottom - 1, (bar, text, top, bottom, above, below)
