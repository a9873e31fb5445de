"""Exercises on joining and measuring: star and delta, the six studs, an ohmmeter, a lost phase, a single-phase motor, the order of work."""

from __future__ import annotations

import math

import numpy as np

from physics.terminals import LINES, PHASES, Wiring
from scenes.drives.terminal_box.board import DELTA, STAR, STRAIGHT
from scenes.drives.terminal_box.motors import PLATES
from scenes.workings.writing import Quantity, exact, figure
from scenes.worksheet.exercise import Accepted, Exercise, Kind
from visual.paper import circuits

LINKS = {"star": STAR, "delta": DELTA}
VOLTS = {"star": "the line voltage over √3", "delta": "the line voltage"}
BOARD = "A terminal board with six studs."
OF_A_BOARD = "winding voltage", "winding current", "line current"
SUPPLIES = (230, 400, 690)
# common practice; EN 50110-1 (memory)
WORK = (
    "isolate the motor",
    "lock the isolator off and put up the notice",
    "try the tester on a known supply",
    "test every conductor against every other and against earth",
    "try the tester on the known supply again",
    "take the leads off and measure",
)
SAME_WINDING, TWO_R = "both pairs without a reading go through that winding", "2 R is the two others in series"
NOT_AT_ALL = "it hums and does not start"


def joined_as(joined: str) -> list[tuple[str, str]]:
    """The links of that way of joining, as pairs of studs."""
    return _pairs(LINKS[joined])


def _pairs(links) -> list[tuple[str, str]]:
    return [(link[:2], link[3:]) for link in links if "-" in link]


def how_to_join(dice) -> Exercise:
    """A plate with two voltages and a supply: star, delta, or neither."""
    plate, supply = PLATES[dice.choice(list(PLATES))], dice.choice(SUPPLIES)
    fits = plate.fits(supply)
    leads = dict(zip(LINES, STRAIGHT, strict=True))
    links = _pairs(LINKS.get(fits, ()))
    gets = {name: float(abs(Wiring(leads, _pairs(each)).on(supply, 50, 1.0).winding_voltages[0])) for name, each in LINKS.items()}
    if links:
        answer, asked = f"in {fits}; {figure(gets[fits], 3)} V", {"": gets[fits]}
    else:
        said = "; ".join(f"in {name} {figure(volts, 3)} V" for name, volts in gets.items())
        answer, asked = f"in neither: this motor does not fit this supply; {said}", {f"in {name}": gets[name] for name in gets}
    return Exercise(
        f"A motor's plate says {plate.words}, the supply has {supply} V between lines. How are the windings to be joined, or do they not "
        "fit? If they do, what voltage does each get? Draw the links. If they do not, what would each get in star, and what in delta?",
        answer,
        (f"A winding is made for {exact(plate.delta_voltage)} V. In delta it gets {supply} V; in star {supply} V / √3 = "
         f"{figure(supply / math.sqrt(3), 3)} V.",),
        circuits.board((), leads, BOARD).svg(),
        circuits.board(links, leads, BOARD).svg(),
        lines=2,
        accepted=tuple(Accepted(Quantity(volts, "V"), 1.0, name) for name, volts in asked.items()),
        besides=((1, "the links drawn"),) if links else (),
        case="fits" if links else "does not fit",
    )  # fmt: skip


def joined_board(dice) -> Exercise:
    """Links and leads as drawn: voltage and current of a winding, current in a line, direction of rotation."""
    joined, supply = dice.choice(list(LINKS)), dice.choice((230, 400))
    leads = dict(zip(LINES, dice.sample(STRAIGHT, 3), strict=True))
    impedance = dice.randrange(10, 60, 2)
    found = Wiring(leads, _pairs(LINKS[joined])).on(supply, 50, impedance)
    values = [Quantity(float(np.abs(each[0])), unit) for each, unit in (
        (found.winding_voltages, "V"), (found.winding_currents, "A"), (found.line_currents, "A"),
    )]  # fmt: skip
    voltage, current, line = (figure(value.value, 3) for value in values)
    return Exercise(
        f"The board is joined as drawn, on {supply} V between lines. At standstill each winding has an impedance of {impedance} Ω. "
        "How are the windings joined? Find the voltage and the current of a winding and the current in a line. Which way does the "
        "shaft turn, looking at the drive end?",
        f"in {joined}; winding voltage {voltage} V; winding current {current} A; line current {line} A; {found.turns}",
        (f"In {joined} a winding has {VOLTS[joined]}: {voltage} V; {voltage} V / {impedance} Ω = {current} A.",
         f"In a line {'the same' if joined == 'star' else '√3 times that'}: {line} A.",
         f"{', '.join(f'{line} on {stud}' for line, stud in leads.items())}: "
         + ("the order L1-L2-L3 of U-V-W, clockwise." if found.turns == "clockwise" else "two phases swapped, counter-clockwise.")),
        circuits.board(_pairs(LINKS[joined]), leads, BOARD).svg(),
        lines=4,
        accepted=tuple(Accepted(value, 2.0, what) for value, what in zip(values, OF_A_BOARD, strict=True)),
        case=f"{joined}, {found.turns}",
    )  # fmt: skip


def ohmmeter(dice) -> Exercise:
    """What it shows between two studs of a sound motor: 2 R in star, 2 R / 3 in delta, R with the links off."""
    joined = dice.choice(("star", "delta", "with the links off"))
    links = _pairs(LINKS.get(joined, ()))
    between = (("U1", "V1"), ("V1", "W1"), ("U1", "W1")) if links else (("U1", "U2"), ("V1", "V2"), ("W1", "W2"))
    first, second = dice.choice(between)
    ohm = dice.randrange(20, 300, 5) / 100
    shown = Wiring({}, links).resistance(first, second, ohm)
    why = {
        "star": "two windings in series: 2 R",
        "delta": "one winding, and beside it the two others in series: R · 2 R / (3 R) = ⅔ R",
    }.get(joined, "one winding alone: R")
    return Exercise(
        f"A sound motor, isolated, locked off and proved dead; its leads are off. Each winding has {exact(ohm)} Ω. What does the "
        "ohmmeter show?",
        f"{figure(shown, 3)} Ω",
        (f"{first} to {second}: {why} = {figure(shown, 3)} Ω",),
        circuits.board(links, {}, BOARD, (first, second)).svg(),
        lines=2,
        accepted=(Accepted(Quantity(shown, "Ω"), 3.0),),
        besides=((1, "which windings lie between the clips, and how"),),
        case=joined,
    )


def broken_winding(dice) -> Exercise:
    """Which winding is open, from three readings."""
    joined, broken = dice.choice(("star", "delta")), dice.choice(PHASES)
    ohm = dice.randrange(20, 300, 10) / 100
    wiring = Wiring({}, _pairs(LINKS[joined]))
    pairs = (("U1", "V1"), ("V1", "W1"), ("W1", "U1"))
    shown = [wiring.resistance(first, second, ohm, broken) for first, second in pairs]
    table = (("studs", *("-".join(pair) for pair in pairs)), ("ohmmeter", *(_ohms(value) for value in shown)))
    # the links drawn join U1-W2, V1-U2, W1-V2, so winding U lies between U1 and V1
    reason = (
        f"In star only the pair without {broken}1 has a path: both others go through winding {broken}."
        if joined == "star"
        else f"In delta the pair that winding {broken} itself joins shows the two others in series, 2 R; the other pairs show R."
    )
    return Exercise(
        f"A motor joined as drawn, isolated, locked off and proved dead; its leads are off. A sound winding has {exact(ohm)} Ω. Which "
        "winding is open? Say why.",
        f"winding {broken}",
        (reason,),
        circuits.board(_pairs(LINKS[joined]), {}, BOARD).svg(),
        table=table,
        filled=table,
        lines=3,
        besides=((1, SAME_WINDING), (1, "the third pair goes without it")) if joined == "star" else ((1, TWO_R), (1, "R is one winding")),
        case=joined,
    )


def _ohms(value: float) -> str:
    return "no reading" if math.isinf(value) else f"{figure(value, 3)} Ω"


def phase_lost(dice) -> Exercise:
    """One lead off at standstill: the voltages that are left, and that it does not start."""
    joined, lost, supply = dice.choice(("star", "delta")), dice.choice(LINES), dice.choice((230, 400))
    leads = {line: stud for line, stud in zip(LINES, STRAIGHT, strict=True) if line != lost}
    found = Wiring(leads, _pairs(LINKS[joined])).on(supply, 50, 1.0)
    volts = np.abs(found.winding_voltages).round(6)
    assert found.turns == "none"
    said = "; ".join(f"{phase} {figure(float(value), 3)} V" for phase, value in zip(PHASES, volts, strict=True))
    why = (
        "In star two windings lie in series between the two lines that are left, half the voltage each; the third has none."
        if joined == "star"
        else "In delta one winding lies between the two lines that are left, the two others in series beside it, half the voltage each."
    )
    return Exercise(
        f"A motor at standstill, joined as drawn, is switched on to {supply} V between lines; {lost} is lost. What voltage is across each "
        "winding? Does the motor start?",
        f"{said}; {NOT_AT_ALL}",
        (why, "The windings' currents are in phase: their field only swells and shrinks, and at standstill it turns nothing."),
        circuits.board(_pairs(LINKS[joined]), leads, BOARD).svg(),
        lines=3,
        accepted=tuple(Accepted(Quantity(float(value), "V"), 2.0, phase) for phase, value in zip(PHASES, volts, strict=True) if value),
        case=joined,
    )


def reversed_capacitor_motor(dice) -> Exercise:
    """The ends of one winding swapped reverse it, those of both do not."""
    before, after = (tuple(f"{letter}{dice.choice('12')}" for letter in "UZ") for _ in range(2))
    if before == after:
        after = (f"U{3 - int(before[0][1])}", before[1])
    swapped = sum(one != other for one, other in zip(before, after, strict=True))
    turns = dice.choice(("clockwise", "counter-clockwise"))
    other = {"clockwise": "counter-clockwise", "counter-clockwise": "clockwise"}[turns]
    words = "Two single-phase motors with a main winding U and an auxiliary winding Z with its capacitor, between L and N."
    return Exercise(
        f"A single-phase motor, main winding U1-U2, auxiliary winding Z1-Z2 with its capacitor. Connected as in 1 it turns {turns}. "
        "Which way does it start when it is connected as in 2? Say why.",
        other if swapped == 1 else turns,
        ("The field goes from the axis of the winding whose current leads to that of the other. "
         + ("Swapping the ends of one winding turns its axis round: the field goes the other way."
            if swapped == 1 else "Both windings have their ends swapped, both axes are turned round: the field goes the same way."),),
        circuits.single_phase((before, after), words).svg(),
        lines=2,
        besides=((1, "how many windings have their ends swapped"), (1, "what that does to the field")),
        case=f"{swapped} swapped",
    )  # fmt: skip


def star_delta_start(dice) -> Exercise:
    """A third of current and torque in star; by an autotransformer the square of its tap."""
    current, torque = dice.randrange(30, 240, 6), dice.randrange(24, 200, 4)
    tap = dice.choice((None, 50, 65, 80))
    share = 1 / 3 if tap is None else (tap / 100) ** 2
    how = "in star, by a star-delta starter" if tap is None else f"by an autotransformer on its {tap} % tap"
    rule = "/ 3" if tap is None else f"× {exact(tap / 100)}²"
    values = Quantity(current * share, "A"), Quantity(torque * share, "N m")
    drawing = circuits.star_and_delta("Three windings in star, and in delta.").svg() if tap is None else ""
    return Exercise(
        f"Started direct-on-line a motor draws {current} A from the line and has {torque} N m at standstill. What are its line "
        f"current and its torque when it is started {how}?",
        f"{figure(values[0].value, 3)} A; {figure(values[1].value, 3)} N m",
        (f"{current} A {rule} = {figure(values[0].value, 3)} A; {torque} N m {rule} = {figure(values[1].value, 3)} N m",
         "A winding's voltage in star is 1/√3 of that in delta: its current too, and the line has another √3 less. Torque goes as the "
         "square "
         "of the voltage." if tap is None else "Motor voltage and current go with the tap, the line's current once more with it; "
         "torque goes as "
         "the square of the voltage."),
        drawing,
        lines=2,
        accepted=tuple(Accepted(value, 3.0) for value in values),
        case="star" if tap is None else "tap",
    )  # fmt: skip


def order_of_work(dice) -> Exercise:
    """The steps before an instrument is laid, to be numbered."""
    shuffled = list(WORK)
    while shuffled == list(WORK):
        dice.shuffle(shuffled)
    head = ("step", "number")
    filled = (head, *((step, str(WORK.index(step) + 1)) for step in shuffled))
    return Exercise(
        "The windings of a motor in service are to be measured. Number these steps in the order in which they are done.",
        ", ".join(str(WORK.index(step) + 1) for step in shuffled),
        ("A tester is tried before and after, for one that has failed in between shows a live conductor as dead. Your site's own "
         "rules come before these.",),
        table=(head, *((step, "") for step in shuffled)),
        filled=filled,
        lines=0,
    )  # fmt: skip


KINDS = {
    "how-to-join": Kind(("terminal-box",), 1, 3, how_to_join),
    "board": Kind(("terminal-box",), 2, 5, joined_board),
    "ohmmeter": Kind(("instruments",), 2, 2, ohmmeter),
    "broken-winding": Kind(("instruments",), 3, 3, broken_winding),
    "order-of-work": Kind(("instruments",), 1, 6, order_of_work),
    "phase-lost": Kind(("one-phase",), 2, 4, phase_lost),
    "capacitor-motor": Kind(("one-phase",), 3, 3, reversed_capacitor_motor),
    "star-delta-start": Kind(("starting",), 1, 2, star_delta_start),
}
