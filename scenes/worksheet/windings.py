"""Exercises on windings: three waves over time, where coils and phases lie, winding factors, a coil on its commutator."""

from __future__ import annotations

import numpy as np

from physics.directions import emf_direction, left_hand, right_hand, turning_sense
from physics.speeds import synchronous_speed
from physics.windings import Winding
from physics.windings.coils_in_slots import BALANCED
from scenes.workings.windings import winding_factor_steps
from scenes.workings.writing import Quantity, exact, figure
from scenes.worksheet.exercise import IN_THE_PAPER, MARKS, TOWARD_YOU, Accepted, Exercise, Kind, line_of, mark, on_paper
from visual.paper import curves, machines

PERIODS = {20: 5, 40: 10, 25: 5, 50: 10, 10: 2}  # ms, and the steps of the axis
ORDERS = {"U-V-W": BALANCED, "U-W-V": np.conj(BALANCED)}
SIGNS = {1: "+", -1: "\N{MINUS SIGN}", 0: "0"}
STATORS = ((12, 2), (12, 4), (24, 2), (24, 4))
FACTORS = ((12, 2), (24, 2), (24, 4), (36, 4), (36, 6), (48, 4))
TURNED = np.radians([half + each for half in (0, 180) for each in (-35, -20, 0, 20, 35)])  # of side A from the poles' axis


def _drawn_waves(period: float, step: float, phasors, instant: float | None) -> str:
    times = np.linspace(0, 1.25 * period, 101)
    values = np.real(phasors[:, np.newaxis] * np.exp(2j * np.pi * times / period))
    marks = np.arange(0, times[-1] + 1e-9, step)
    return curves.three_phases(times, values, marks, instant, "The currents of U, V and W over time in milliseconds.").drawing.svg()


def three_waves(dice) -> Exercise:
    """Period, frequency, order, and the field of a motor that is fed so."""
    period, order, poles = dice.choice(list(PERIODS)), dice.choice(list(ORDERS)), dice.choice((2, 4, 6))
    phasors = ORDERS[order] * np.exp(1j * np.radians(dice.choice((30, 150, 270))))
    frequency = 1000 / period
    clockwise, counter = (abs(wave) for wave in Winding(6 * poles, poles).travelling_waves(phasors))
    turns = turning_sense((counter - clockwise) * TOWARD_YOU, TOWARD_YOU)
    rpm = 60 * float(synchronous_speed(frequency, poles))
    return Exercise(
        f"The three currents of a {poles}-pole motor. Find their period and frequency, the order in which they peak, the speed of the "
        "field, and its direction looking at the drive end.",
        f"{period} ms; {exact(frequency)} Hz; {order}; {figure(rpm)} r/min; {turns}",
        (f"f = 1 / T = 1 / {exact(period / 1000)} s = {exact(frequency)} Hz",
         f"n_s = 120 f / poles = 120 × {exact(frequency)} / {poles} = {figure(rpm)} r/min",
         "U, V, W peaking in this order make a field that turns clockwise looking at the drive end; in the other order, the other way."),
        _drawn_waves(period, PERIODS[period], phasors, None),
        lines=4,
        accepted=(Accepted(Quantity(period, "ms"), 5.0), Accepted(Quantity(frequency, "Hz"), 5.0), Accepted(Quantity(rpm, "r/min"), 5.0)),
        case=order,
    )  # fmt: skip


def signs_at_an_instant(dice) -> Exercise:
    """Which way each current flows at one of twelve instants."""
    period, order = dice.choice(list(PERIODS)), dice.choice(list(ORDERS))
    phasors = ORDERS[order] * np.exp(1j * np.radians(dice.choice((30, 150, 270))))
    instant = period * dice.randrange(1, 12) / 12
    now = np.real(phasors * np.exp(2j * np.pi * instant / period)).round(9)
    signs = dict(zip("UVW", np.sign(now).astype(int), strict=True))
    return Exercise(
        "The dashed line marks an instant. Which of the three currents are positive then, which negative, which zero?",
        "; ".join(f"{letter} {SIGNS[sign]}" for letter, sign in signs.items()),
        (f"Read at the dashed line, in parts of the peak: {', '.join(f'{x} {figure(v, 2)}' for x, v in zip('UVW', now, strict=True))}. "
         "At every instant the three add up to zero.",),
        _drawn_waves(period, PERIODS[period], phasors, instant),
        lines=1,
        case="one is zero" if 0 in signs.values() else "none is zero",
    )  # fmt: skip


def _stator(dice) -> Winding:
    slots, poles = dice.choice(STATORS)
    short = dice.choice((0, 0, 1)) if slots // poles > 3 else 0
    return Winding(slots, poles, 1, slots // poles - short, 2)


def _said(winding: Winding) -> str:
    short = winding.slots // winding.poles - winding.span
    return f"A stator has {winding.slots} slots and is wound for {winding.poles} poles, with coils of " + (
        "full pitch" if not short else "one slot less than full pitch"
    )


def where_a_coil_ends(dice) -> Exercise:
    winding = _stator(dice)
    start = dice.randint(1, winding.slots - winding.span)
    words = f"The {winding.slots} slots of a stator, unrolled and numbered."
    full, finish = winding.slots // winding.poles, start + winding.span
    return Exercise(
        f"{_said(winding)}. A coil starts in slot {start} and goes on toward the higher numbers. In which slot does it finish? Draw it.",
        f"in slot {finish}",
        (f"full pitch = slots / poles = {winding.slots} / {winding.poles} = {full}; coil pitch {winding.span}",
         f"{start} + {winding.span} = {finish}"),
        machines.unrolled(winding.slots, (), words).svg(),
        machines.unrolled(winding.slots, (("", start, finish),), words).svg(),
        lines=1,
        besides=((1, "the coil drawn"),),
        case="full pitch" if winding.span == full else "short",
    )  # fmt: skip


def where_phases_start(dice) -> Exercise:
    winding = _stator(dice)
    shift = dice.randint(0, winding.slots_per_pole_and_phase)
    pair = winding.slots // winding.pole_pairs
    starts = {
        phase: 1 + shift + min(side.slot for side in winding.slot_table if (side.phase, side.sign, side.layer) == (phase, 1, 1))
        for phase in "UVW"
    }
    words = f"The {winding.slots} slots of a stator, unrolled and numbered."
    return Exercise(
        f"A stator has {winding.slots} slots and is wound for {winding.poles} poles. Phase U starts in slot {starts['U']}. In which of the "
        f"following slots of the same pole pair do V and W start?",
        f"V in slot {starts['V']}; W in slot {starts['W']}",
        (f"slots of a pole pair = {winding.slots} / {winding.pole_pairs} = {pair}; a third of it = {pair // 3}",
         f"V: {starts['U']} + {pair // 3} = {starts['V']}; W: {starts['U']} + {2 * pair // 3} = {starts['W']}"),
        machines.unrolled(winding.slots, (), words, {starts["U"]: "U1"}).svg(),
        machines.unrolled(winding.slots, (), words, {starts[phase]: f"{phase}1" for phase in "UVW"}).svg(),
        lines=1,
    )  # fmt: skip


def winding_factor(dice) -> Exercise:
    slots, poles = dice.choice(FACTORS)
    full = slots // poles
    winding = Winding(slots, poles, 1, full - dice.randint(0, full // 4), 2)
    steps = winding_factor_steps(winding)
    values = [each.results[0] for each in steps if each.symbol in ("k_d", "k_p", "k_w")]
    distribution, pitch, whole = (value.text for value in values)
    words = f"One coil of a winding in {slots} slots, unrolled."
    drawing = machines.unrolled(slots, (("", 1, 1 + winding.span),), words).svg() if slots <= 24 else ""
    return Exercise(
        f"A three-phase winding lies in {slots} slots for {poles} poles; each coil spans {winding.span} slots. Find its distribution "
        "factor, its pitch factor and its winding factor.",
        f"k_d = {distribution}; k_p = {pitch}; k_w = {whole}",
        tuple(line_of(each) for each in steps),
        drawing,
        lines=5,
        accepted=tuple(Accepted(value, 1.0, f"{name} =") for name, value in zip(("k_d", "k_p", "k_w"), values, strict=True)),
        besides=((1, "the working of k_d"), (1, "the working of k_p")),
        case="full pitch" if winding.span == full else "short",
    )


def coil_on_a_battery(dice) -> Exercise:
    """A coil with its commutator: current into the brush at +, and the direction it starts in."""
    field, turned, polarity = dice.choice(list(IN_THE_PAPER.values())), dice.choice(TURNED), dice.choice((1, -1))
    axis = np.abs(on_paper(field))
    sides = _sides(axis, turned)
    into_first = polarity if _on_first_brush(turned) else -polarity
    first = -into_first * TOWARD_YOU  # from + into a segment, and on into the side joined to it, away from the commutator
    hand = left_hand(field, first)
    turns = turning_sense(np.cross(sides[0], hand.thumb), TOWARD_YOU)
    letters = ("N", "S") if on_paper(field) @ axis > 0 else ("S", "N")

    def drawn(currents) -> str:
        brushes = {"A1": polarity, "A2": -polarity}
        return machines.commutator(axis, turned, currents, brushes, "A coil and its commutator between two poles.", letters).svg()

    return Exercise(
        "You look at the commutator of a machine with one coil, joined to a battery as marked. Mark the currents in both coil sides. "
        "In which direction does it start to turn, seen from here?",
        f"A {MARKS[mark(first)]}; B {MARKS[mark(-first)]}; {turns}",
        (f"The current goes in at the + brush, through its segment into side {'A' if into_first > 0 else 'B'}, away from you, and "
         "comes back in the other side.",
         f"Side A: {hand.words()}"),
        drawn((0, 0)),
        drawn((mark(first), mark(-first))),
        lines=2,
        hand=hand,
    )  # fmt: skip


def brush_of_a_generator(dice) -> Exercise:
    """The same coil cranked: which brush is positive, whichever side is under it."""
    field, turned, clockwise = dice.choice(list(IN_THE_PAPER.values())), dice.choice(TURNED), dice.random() < 0.5
    axis = np.abs(on_paper(field))
    sides = _sides(axis, turned)
    motion = np.cross((-1 if clockwise else 1) * TOWARD_YOU, sides[0])
    hand = right_hand(field, motion)
    emf = emf_direction(field, motion)
    letters = ("N", "S") if on_paper(field) @ axis > 0 else ("S", "N")
    positive = "A1" if (mark(emf) > 0) == _on_first_brush(turned) else "A2"

    def drawn(currents) -> str:
        words = "A coil and its commutator, turned between two poles."
        return machines.commutator(axis, turned, currents, {"A1": 0, "A2": 0}, words, letters, clockwise).svg()

    return Exercise(
        "You look at the commutator of a machine with one coil, turned in the direction of the arrow. Mark the EMFs of both coil "
        "sides. Which brush is positive? Is it so too when the coil has turned half a revolution? Why?",
        f"A {MARKS[mark(emf)]}; B {MARKS[-mark(emf)]}; {positive} is positive, and stays so",
        (f"Side A: {hand.words()}",
         "Inside a source current flows toward the positive terminal: out of the side in which it comes toward you, by its segment, to "
         "its brush.",
         "After half a revolution the sides have changed places and the segments with them: each brush again gets the side at the same "
         "pole."),
        drawn((0, 0)),
        drawn((mark(emf), -mark(emf))),
        lines=3,
        hand=hand,
        besides=((1, "why it stays so"),),
    )  # fmt: skip


def _on_first_brush(turned: float) -> bool:
    """Whether the segment of side A, a quarter turn counter-clockwise of it, is under brush A1."""
    return bool(np.cos(turned) > 0)


def _sides(axis, turned: float) -> tuple[np.ndarray, np.ndarray]:
    """Where sides A and B lie: A turned from the poles' axis."""
    angle = np.arctan2(axis[1], axis[0]) + turned
    side = np.array([np.cos(angle), np.sin(angle), 0.0])
    return side, -side


KINDS = {
    "battery": Kind(("coils-and-commutator",), 2, 3, coil_on_a_battery),
    "brush": Kind(("coils-and-commutator",), 3, 4, brush_of_a_generator),
    "signs": Kind(("turning-field", "alternator"), 1, 3, signs_at_an_instant),
    "waves": Kind(("turning-field",), 2, 5, three_waves),
    "coil-pitch": Kind(("laying-the-winding",), 1, 2, where_a_coil_ends),
    "phase-starts": Kind(("laying-the-winding",), 2, 2, where_phases_start),
    "winding-factor": Kind(("laying-the-winding",), 3, 5, winding_factor),
}
