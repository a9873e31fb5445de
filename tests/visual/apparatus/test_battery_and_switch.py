"""Battery and knife switch as what they are told to be: which terminal is positive, and whether the switch conducts."""

from __future__ import annotations

import numpy as np
import pytest

from tests.oracle import in_a_loop
from visual.apparatus.circuit import Battery, KnifeSwitch
from visual.apparatus.wiring import Lead
from visual.solid.solids import Group
from visual.solid.told import told

ALONG = [(1, 0, 0), (0, 0, 1), (-1, 0, 0), (0.6, 0, -0.8)]


def leads_of(group):
    return [{"from": first, "to": second, "through": through} for first, second, through in told(group).leads]


@pytest.mark.parametrize("along", ALONG)
@pytest.mark.parametrize("sense", [1, -1])
def test_the_signs_stand_over_the_terminals_they_name(along, sense):
    group = Group()
    battery = Battery(group, (0.1, 0.02, -0.3), 0.05, along=along)
    battery.connect(sense)
    signs = {text: np.array(at) for text, at, _ in told(group).letters}
    # positive along `along` for a sense above 0: 0.6 of the size from terminal to terminal
    np.testing.assert_allclose(signs["+"] - signs["\N{MINUS SIGN}"], sense * 0.6 * 0.05 * np.array(along), atol=1e-6)
    for terminal in (battery.left, battery.right):
        above = signs[terminal.marking] - terminal.at
        np.testing.assert_allclose(above[[0, 2]], 0, atol=1e-6)
        assert 0 < above[1] < 0.02
    (inside,) = leads_of(group)
    assert {inside["from"], inside["to"]} == {"battery +", "battery \N{MINUS SIGN}"} and inside["through"] == "battery"


@pytest.mark.parametrize("along", ALONG)
def test_a_switch_conducts_while_its_blade_lies_in_the_jaw(along):
    group = Group()
    battery, switch = Battery(group, (0, 0, 0), 0.05), KnifeSwitch(group, (0.2, 0, 0.1), 0.05, along=along)
    Lead(group, battery.right, switch.hinge)
    Lead(group, switch.jaw, battery.left)
    apart = np.subtract(switch.jaw.at, switch.hinge.at)
    np.testing.assert_allclose(apart, 0.9 * 0.05 * np.array(along), atol=1e-12)
    for closed in (True, False, True):
        switch.close(closed)
        assert in_a_loop(leads_of(group), "battery") == closed
        at, x_axis, _, _ = switch.blade._place
        np.testing.assert_allclose(np.subtract(at, switch.hinge.at), [0, -0.001, 0], atol=1e-9)  # turns about its hinge
        assert (x_axis[1] < 1e-9) == closed, "lies level in the jaw, or stands up"
        assert np.dot(x_axis, along) > 0.5, "toward the jaw"


def test_two_of_a_kind_keep_their_names():
    group = Group()
    for thing in ("left switch", "right switch"):
        KnifeSwitch(group, (0, 0, 0), 0.05, thing=thing).close(True)
    assert [lead["through"] for lead in leads_of(group)] == ["left switch", "right switch"]
