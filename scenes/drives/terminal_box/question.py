"""What is said of a joining, and what is asked of it: direction, star or delta, a winding's voltage, what trips."""

from __future__ import annotations

import numpy as np

from scenes.drives.terminal_box.board import DELTA, LEADS, LINKS, OWN, STAR, STRAIGHT, USUAL
from scenes.drives.terminal_box.case import Case
from scenes.drives.terminal_box.snapshot import Snapshot
from scenes.drives.terminal_box.words import fault, judged, rounded, tripping, uneven
from scenes.scene.scene import Question
from scenes.scene.story import Look

FITTING = {("230/400", "230"): DELTA, ("230/400", "400"): STAR, ("400/690", "400"): DELTA, ("400/690", "690"): STAR}  # plate, supply: links
ASKED = (("turns", "direction"), ("joining", "star or delta"), ("voltage", "a winding's voltage"), ("trips", "what trips"))


def sentence(now: Snapshot, look: Look) -> str:
    case, view = now.case, look.view
    if now.state == "isolated":
        return f"The main switch is open and nothing is live: {judged(case)}."
    if now.state == "fuse":
        return f"The fuses have blown: {judged(case)}."
    if now.state == "relay":
        return f"The overload relay has tripped: {judged(case)}."
    turning = view.turning(now.speed)
    shaft = "the shaft stands" if turning == "none" else f"the shaft turns {turning} at {60 * abs(now.speed):.0f} r/min"
    return f"Looking at {view.end}, {shaft} with {now.times:.1f} times its rated current; {judged(case)}."


def question(now: Snapshot, look: Look) -> Question:
    return {"turns": _turns, "joining": _joining, "voltage": _voltage, "trips": _trips}[now.setup.asked](now, look)


def _given(case: Case) -> str:
    turned = f"; winding {case.joining.reversed[0]} is reversed inside" if case.joining.reversed else ""
    return f"A motor of {case.plate.words} on {case.supply:.0f} V, {case.frequency:.0f} Hz: {case.joining.words}{turned}. "


def _turns(now: Snapshot, look: Look) -> Question:
    view, case = look.view, now.case
    # the value is that seen from the drive end, the words those of the view
    words = {value: view.turning(speed) for value, speed in (("clockwise", -1.0), ("counter-clockwise", 1.0))}
    load = f"The load is {now.setup.percent:g} % of rated torque. " if now.setup.percent else ""
    return Question(
        f"{_given(case)}{load}Looking at {view.end}, which direction does the shaft turn when the main switch is closed?",
        (*((value, said) for value, said in words.items()), ("none", "it does not turn")),
        case.turns,
        _why_it_turns(case, words),
    )


def _why_it_turns(case: Case, words: dict[str, str]) -> str:
    if case.turns == "none":
        wrong = fault(case)
        wrong = f"{wrong[:1].upper()}{wrong[1:]}"
        if case.short or not np.abs(case.at_first.currents).any():
            return f"{wrong}: the windings make no rotating field."
        torque = abs(float(case.at_first.torque))
        held = f"At standstill the motor has {torque:.1f} N m, and the load with the bearings holds {case.friction:.1f} N m."
        return f"{wrong}. {held}" if wrong else held
    stands = abs(float(case.at_first.torque))
    return (
        f"{'The larger part of the three currents makes' if uneven(case) else 'The three currents make'} a field that turns "
        f"{words[case.turns]}, with {stands:.0f} N m at standstill; "
        "U-V-W on L1-L2-L3 turns clockwise looking at the drive end."
        f"{f' Yet it must not be switched on like that: {fault(case)}.' if fault(case) else ''}"
    )


def _joining(now: Snapshot, look: Look) -> Question:
    plate, supply = now.setup.plate, now.setup.supply
    fits = plate.fits(supply)
    why = (
        f"A winding is made for {plate.delta_voltage:.0f} V. In delta it gets the {supply:.0f} V between lines, in star less: "
        f"{supply:.0f} V / √3 = {supply / np.sqrt(3):.0f} V."
    )
    return Question(
        f"The plate says {plate.words}, the supply is {supply:.0f} V. How are the windings to be joined?",
        (("star", "in star"), ("delta", "in delta"), ("neither", "neither: this supply does not fit")),
        fits,
        why,
        shows=() if fits == "neither" else (("joined", fits), ("reversed", "none")),
    )


def _voltage(now: Snapshot, look: Look) -> Question:
    case = now.case
    volts = rounded(float(np.abs(case.at_first.voltages)[0])) if not case.short else 0
    usual = (0, case.supply / 3, case.supply / 2, case.supply / np.sqrt(3), case.supply)
    values = sorted({volts, *[round(value) for value in usual if abs(value - volts) > 0.04 * case.supply]})
    return Question(
        f"{_given(case)}What voltage is across winding U when the main switch is closed and the shaft has not yet moved?",
        tuple((str(value), f"{value} V") for value in values),
        str(volts),
        _why_that_voltage(case, volts),
    )


def _why_that_voltage(case: Case, volts: int) -> str:
    if case.short:
        return f"The lines are joined together: fuses blow at once. {fault(case)[0].upper()}{fault(case)[1:]}."
    kind = case.connected.kind
    if fault(case) and kind not in ("star", "delta"):
        return f"By the way the windings lie between the lines, U has {volts} V: {fault(case)}."
    share = {"star": "the line voltage over the root of three", "delta": "the line voltage"}.get(kind, "")
    even = not fault(case) or "gives each winding" in fault(case)
    return f"Joined in {kind}, each winding has {share}: {volts} V." if even else f"U has {volts} V, for {fault(case)}."


def _trips(now: Snapshot, look: Look) -> Question:
    case = now.case
    flows = bool(np.abs(case.at_first.currents).any()) or case.short
    answer = case.trips or ("runs" if flows else "dead")
    said = tripping(case)
    wrong = fault(case)
    lines = 0.0 if case.short else float(np.abs(case.settled.line_currents).max())
    why = (
        f"{wrong[0].upper()}{wrong[1:]}: {said}."
        if case.short or not flows
        else f"The motor settles at {60 * abs(float(case.run_up[1][-1])):.0f} r/min with {lines:.1f} A in a line, "
        f"{lines / case.plate.line_current(case.supply):.2f} times the rated current: {said}{f'; {wrong}' if wrong else ''}."
    )
    return Question(
        f"{_given(case)}The load is {now.setup.percent:g} % of rated torque. What switches it off?",
        (
            ("runs", "nothing: it may stay on"),
            ("relay", "the overload relay"),
            ("fuse", "the fuses"),
            ("dead", "nothing: no current flows"),
        ),
        answer,
        why,
    )


def random_setup(random) -> dict:
    """Joined by hand."""
    asked = random.choice([name for name, _ in ASKED])
    if asked == "turns":
        return turning_setup(random)
    plate, supply = random.choice(
        (("230/400", "230"), ("230/400", "400"), ("230/400", "690"), ("400/690", "230"), ("400/690", "400"), ("400/690", "690"))
    )
    setup = {"by": "hand", "asked": asked, "plate": plate, "supply": supply, "load": float(random.choice((0, 30, 50, 100)))}
    if random.random() < 0.6:
        return setup | {"joined": random.choice(list(USUAL)), "reversed": random.choice(("none",) * 7 + ("U", "V", "W"))}
    links = USUAL[random.choice(("star", "delta", "other-delta", "delta"))][1]
    leads = random.sample(STRAIGHT, 3)
    return setup | {"joined": OWN} | dict(zip((*LINKS, *LEADS), (*links, *leads), strict=True))


def turning_setup(random) -> dict:
    """As the plate asks; or in star where it asks for delta, with a load that holds it then. Nobody is asked which way a motor turns on
    what burns it."""
    drawn = well_joined(random) | {"by": "hand", "asked": "turns", "reversed": "none", "load": float(random.choice((0, 30, 50, 100)))}
    if random.random() < 0.5 and FITTING[drawn["plate"], drawn["supply"]] == DELTA:
        return drawn | dict(zip(LINKS, STAR, strict=True)) | {"load": 100.0}
    return drawn


def well_joined(random) -> dict:
    """A plate on a supply that fits it, the links as that asks, and the leads on the lower studs in any order."""
    (plate, supply), links = random.choice(list(FITTING.items()))
    leads = random.sample(STRAIGHT, 3)
    return {"plate": plate, "supply": supply, "joined": OWN} | dict(zip((*LINKS, *LEADS), (*links, *leads), strict=True))
