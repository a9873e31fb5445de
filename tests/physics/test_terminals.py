"""The board of six studs: every joining against a nodal solution of the test's own, and against closed forms."""

import cmath
import math
import random

import numpy as np
import pytest

from physics.terminals import LINES, PHASES, STUDS, Wiring

STRAIGHT = {"L1": "U1", "L2": "V1", "L3": "W1"}
STAR = (("W2", "U2"), ("U2", "V2"))
DELTA = (("U1", "W2"), ("V1", "U2"), ("W1", "V2"))
OTHER_DELTA = (("U1", "V2"), ("V1", "W2"), ("W1", "U2"))


def solved(wiring, line_voltage, impedances):
    """(winding currents, line currents) by modified nodal analysis with every link, lead and source an ideal branch.

    Least squares of the smallest norm: links that close a ring, and parts that float, leave the rest as it is.
    """
    nodes = [*STUDS, *LINES]
    sources = [(line, None, line_voltage / math.sqrt(3) * cmath.rect(1, -k * 2 * math.pi / 3)) for k, line in enumerate(LINES)]
    ideal = sources + [(line, stud, 0) for line, stud in wiring.leads.items()] + [(*link, 0) for link in wiring.links]
    size = len(nodes) + len(ideal)
    matrix, right = np.zeros((size, size), complex), np.zeros(size, complex)
    for k, phase in enumerate(PHASES):
        a, b = nodes.index(phase + "1"), nodes.index(phase + "2")
        for here, there in ((a, b), (b, a)):
            matrix[here, here] += 1 / impedances[k]
            matrix[here, there] -= 1 / impedances[k]
    for k, (first, second, volts) in enumerate(ideal, len(nodes)):
        for node, sign in ((first, 1), (second, -1)):
            if node is not None:
                matrix[nodes.index(node), k] += sign
                matrix[k, nodes.index(node)] += sign
        right[k] = volts
    answer = np.linalg.lstsq(matrix, right, rcond=1e-13)[0]
    windings = []
    for k, phase in enumerate(PHASES):
        across = answer[nodes.index(phase + "1")] - answer[nodes.index(phase + "2")]
        windings.append((-across if phase in wiring.reversed_windings else across) / impedances[k])
    leads = list(wiring.leads)
    lines = [answer[len(nodes) + 3 + leads.index(line)] if line in leads else 0 for line in LINES]
    return np.array(windings), np.array(lines)


def turned(currents):
    """Followed through one period: the area that the field's tip goes round, U-V-W clockwise as IEC 60034-8 has it."""
    wt = np.linspace(0, 2 * np.pi, 361)
    tip = sum(np.real(i * np.exp(1j * wt)) * cmath.rect(1, -k * 2 * math.pi / 3) for k, i in enumerate(currents))
    area = np.sum(tip[:-1].real * np.diff(tip.imag) - tip[:-1].imag * np.diff(tip.real)) / 2
    if abs(area) < 1e-6 * max(1e-30, np.max(np.abs(tip)) ** 2):
        return "none"
    return "counter-clockwise" if area > 0 else "clockwise"


def a_wiring(dice):
    lines = dice.sample(LINES, dice.choice((1, 2, 3, 3, 3, 3)))
    links = [tuple(dice.sample(STUDS, 2)) for _ in range(dice.randint(0, 4))]
    links = dice.choice((links, list(STAR), list(DELTA), list(OTHER_DELTA), list(DELTA)[:2], [*STAR, *links[:1]]))
    return Wiring(dict(zip(lines, dice.sample(STUDS, len(lines)), strict=True)), links, dice.sample(PHASES, dice.choice((0, 0, 1, 2))))


@pytest.mark.parametrize("seed", range(400))
def test_any_way_of_joining_is_as_the_nodes_have_it(seed):
    dice = random.Random(seed)
    wiring = a_wiring(dice)
    impedances = [complex(dice.uniform(0.5, 20), dice.uniform(-5, 30)) for _ in PHASES]
    voltage = dice.choice((230.0, 400.0, 690.0))
    found = wiring.on(voltage, 50, impedances)
    if found.kind == "short circuit":
        ideal = {frozenset(link) for link in wiring.links}
        joined = {stud: {stud} for stud in STUDS}
        for _ in STUDS:
            for a, b in map(tuple, ideal):
                joined[a] = joined[b] = joined[a] | joined[b]
        shorted = [line for line, stud in wiring.leads.items() if any(o != stud and o in joined[stud] for o in wiring.leads.values())]
        assert shorted and {line for line, i in zip(LINES, found.line_currents, strict=True) if np.isinf(i)} == set(shorted)
        return
    currents, lines = solved(wiring, voltage, impedances)
    np.testing.assert_allclose(found.winding_currents, currents, atol=1e-7)
    np.testing.assert_allclose(found.line_currents, lines, atol=1e-7)
    np.testing.assert_allclose(found.winding_voltages, currents * impedances, atol=1e-6)
    assert (found.kind == "open") == (not np.any(np.abs(currents) > 1e-7))
    assert found.turns == turned(np.where(np.abs(currents) > 1e-7, currents, 0))
    # what the supply gives is what the windings take
    supply = voltage / math.sqrt(3) * np.exp(-2j * np.pi / 3 * np.arange(3))
    assert supply @ found.line_currents.conj() == pytest.approx(np.sum(impedances * np.abs(currents) ** 2), abs=1e-6)


def test_star_and_delta_and_one_on_the_others_voltage():
    """IEC 60034-8 for the board's links (memory); 1/sqrt(3) of the voltage and a third of the line current by arithmetic."""
    star, delta = (Wiring(STRAIGHT, links).on(400, 50, 8 + 6j) for links in (STAR, DELTA))
    assert (star.kind, delta.kind, Wiring(STRAIGHT, OTHER_DELTA).on(400, 50, 8 + 6j).kind) == ("star", "delta", "delta")
    np.testing.assert_allclose(np.abs(star.winding_voltages), 400 / math.sqrt(3))
    np.testing.assert_allclose(np.abs(delta.winding_voltages), 400)
    np.testing.assert_allclose(np.abs(star.line_currents), np.abs(delta.line_currents) / 3)
    np.testing.assert_allclose(np.abs(delta.line_currents), 400 / 10 * math.sqrt(3))
    assert star.turns == delta.turns == "clockwise"
    swapped = {"L1": "V1", "L2": "U1", "L3": "W1"}
    assert Wiring(swapped, STAR).on(400, 50, 8 + 6j).turns == Wiring(swapped, DELTA).on(400, 50, 8 + 6j).turns == "counter-clockwise"


def test_a_line_missing_leaves_two_windings_in_series_and_a_field_that_only_swells():
    found = Wiring({"L1": "U1", "L3": "W1"}, STAR).on(400, 50, 10)
    np.testing.assert_allclose(np.abs(found.winding_currents), [20, 0, 20], atol=1e-9)
    assert (found.kind, found.turns) == ("star", "none")


@pytest.mark.parametrize("links", [STAR, DELTA])
@pytest.mark.parametrize("phase", PHASES)
def test_one_winding_reversed_is_pushed_the_wrong_way(links, phase):
    """Symmetrical components by hand: the component against the sequence is twice the one with it."""
    assert Wiring(STRAIGHT, links, (phase,)).on(400, 50, 3 + 4j).turns == "counter-clockwise"


def test_links_for_star_and_delta_at_once_are_a_short_circuit():
    found = Wiring(STRAIGHT, (*STAR, *DELTA)).on(400, 50, 10)
    assert found.kind == "short circuit" and np.isinf(found.line_currents).all() and found.turns == "none"


def test_nothing_joined_is_open():
    for wiring in (Wiring(STRAIGHT, ()), Wiring({}, STAR), Wiring({"L1": "U1"}, DELTA)):
        found = wiring.on(400, 50, 10 + 1j)
        assert (found.kind, found.turns) == ("open", "none") and not found.line_currents.any()


def test_an_ohmmeter_between_studs():
    """2 R in star, 2/3 R in delta (arithmetic); a broken winding leaves the two others in series, R across each of them."""
    star, delta = Wiring({}, STAR), Wiring({}, DELTA)
    assert star.resistance("U1", "V1", 3) == pytest.approx(6)
    assert delta.resistance("U1", "V1", 3) == pytest.approx(2)
    assert delta.resistance("U1", "W2", 3) == 0
    assert delta.resistance("U1", "V1", 3, ("U",)) == pytest.approx(6)
    assert delta.resistance("V1", "W1", 3, ("U",)) == pytest.approx(3)
    assert star.resistance("U1", "V1", 3, ("U",)) == math.inf == Wiring({}, ()).resistance("U1", "V1", 3)
    assert Wiring({}, ()).resistance("U1", "U2", (3, 4, 5)) == pytest.approx(3)
    assert delta.resistance("U1", "V1", (1, 2, 3)) == pytest.approx(1 / (1 / 1 + 1 / 5))


@pytest.mark.parametrize("seed", range(100))
def test_an_ohmmeter_is_a_volt_over_what_the_nodes_let_through(seed):
    dice = random.Random(seed)
    wiring, (first, second) = a_wiring(dice), dice.sample(STUDS, 2)
    resistances = [dice.uniform(0.5, 5) for _ in PHASES]
    opened = dice.sample(PHASES, dice.choice((0, 0, 1)))
    current = np.zeros(6)
    current[STUDS.index(first)], current[STUDS.index(second)] = 1, -1
    matrix = np.zeros((6, 6))
    branches = [(phase + "1", phase + "2", r) for phase, r in zip(PHASES, resistances, strict=True) if phase not in opened]
    for a, b, r in branches + [(*link, 1e-7) for link in wiring.links]:
        a, b = STUDS.index(a), STUDS.index(b)
        matrix[[a, b], [a, b]] += 1 / r
        matrix[[a, b], [b, a]] -= 1 / r
    levels = np.linalg.lstsq(matrix, current, rcond=1e-12)[0]
    through = np.allclose(matrix @ levels, current, atol=1e-3)
    expected = levels[STUDS.index(first)] - levels[STUDS.index(second)] if through else math.inf
    assert wiring.resistance(first, second, resistances, opened) == pytest.approx(expected, abs=1e-4)


@pytest.mark.parametrize(
    ("wrong", "names"),
    [
        (lambda: Wiring({"L4": "U1"}, ()), "leads must be of L1, L2, L3"),
        (lambda: Wiring({"L1": "X1"}, ()), "leads must be of U1, U2"),
        (lambda: Wiring({}, (("U1", "U1"),)), "links must be pairs"),
        (lambda: Wiring({}, ("U1",)), "links must be pairs"),
        (lambda: Wiring({}, (), ("X",)), "reversed_windings"),
        (lambda: Wiring({}, ()).on(0, 50, 1), "line_voltage"),
        (lambda: Wiring({}, ()).on(400, math.nan, 1), "frequency"),
        (lambda: Wiring({}, ()).on(400, 50, 0), "winding_impedance"),
        (lambda: Wiring({}, ()).on(400, 50, [1, 2]), "winding_impedance"),
        (lambda: Wiring({}, ()).resistance("U1", "V3", 1), "second"),
        (lambda: Wiring({}, ()).resistance("U1", "V1", 0), "winding_resistance"),
    ],
)
def test_what_is_wrong_is_said_in_one_sentence(wrong, names):
    with pytest.raises(ValueError, match=names):
        wrong()
