"""The kinds of question on the terminal box, wired by hand or with a star-delta starter."""

from __future__ import annotations

import numpy as np

from physics.terminals import LINES
from scenes.drives.terminal_box import question as by_hand
from scenes.drives.terminal_box.board import DELTA, LEADS, LINKS, OFF, OWN, STAR, STRAIGHT
from scenes.drives.terminal_box.case import Case
from scenes.drives.terminal_box.starter import question as of_starter
from scenes.questions.compare import Change, Measure, compare, one_of
from scenes.questions.figures import figure
from scenes.questions.kinds import Kind, SetUp, forward, with_mistakes
from scenes.questions.mistakes import AS_MARKED, LINE, NO_EFFECT, OTHER_END, PER_PHASE, STAR_AND_DELTA
from scenes.questions.why import Reasons, statements, why
from scenes.scene.question import PRESSED, Question
from scenes.scene.typed import shown

OTHER = {"clockwise": "counter-clockwise", "counter-clockwise": "clockwise"}
WHOLE = {"by": "hand", "reversed": "none", "load": 30.0, "hertz": "50"}
ANY = ("load", "hertz")  # nothing that is said of voltages and leads hangs on them


def _asked(name: str):
    """A joining by hand with that question."""
    return lambda dice, settings: by_hand.random_setup(dice) | {"asked": name}


def _tripping(dice, settings) -> dict:
    """As the scene draws it, or often with one lead alone, so that no current flows: without links a word would tell it."""
    drawn = by_hand.random_setup(dice) | {"asked": "trips"}
    if dice.random() < 0.6:
        return drawn
    alone = dict.fromkeys(LEADS, OFF) | {dice.choice(LEADS): dice.choice(STRAIGHT)}
    return drawn | {"joined": OWN, "reversed": "none"} | dict(zip(LINKS, dice.choice((STAR, DELTA)), strict=True)) | alone


def _asked_of_the_starter(name: str):
    """A starter with that question. Where Q3 sticks nothing changes over, which that word alone would tell."""
    changes_over = {} if name == "closed" else {"sticks": False}
    return lambda dice, settings: of_starter.random_setup(dice) | {"asked-starter": name} | changes_over


def _joined(dice, settings) -> dict:
    plate, supply = dice.choice(list(by_hand.FITTING))
    return WHOLE | {"asked": "voltage", "joined": dice.choice(("star", "delta")), "plate": plate, "supply": supply}


def _mistaken_turning(setup: SetUp) -> dict[str, str]:
    """By its value, which is that seen from the drive end."""
    answer = setup.question().answer
    return {} if answer == "none" else {OTHER_END: OTHER[answer], AS_MARKED: "clockwise"}  # of what does not turn, neither


def _swapped(dice, settings) -> dict:
    """The three leads on the lower studs in any order, joined as the plate asks on that supply."""
    return WHOLE | {"asked": "turns"} | by_hand.well_joined(dice)


def _stud(setup: SetUp) -> Question | None:
    """Where a lead goes so that the shaft turns the other way, to be pressed; not asked of one that does not turn."""
    on = dict(zip(LINES, _case(setup).joining.leads, strict=True))
    if sorted(on.values()) != sorted(STRAIGHT) or _case(setup).turns == "none":
        return None
    stays, asked = setup.dice.sample(LINES, 2)
    (answer,) = [stud for line, stud in on.items() if line not in (stays, asked)]
    choices = setup.shuffled((stud, f"stud {stud}") for stud in STRAIGHT)
    leads = ", ".join(f"{line} is on {stud}" for line, stud in on.items())
    question = Question(
        f"{leads}. The shaft shall turn the other way, and {stays} stays where it is. On which stud does {asked} go?",
        choices,
        answer,
        f"Two leads swapped reverse the field, whichever two they are: with {stays} where it is, the other two change places.",
        pressed=True,
    )
    return question.of_kind("stud", choices, with_mistakes({NO_EFFECT: on[asked]}, answer))


def _mistaken_joining(setup: SetUp) -> dict[str, str]:
    return {STAR_AND_DELTA: {"star": "delta", "delta": "star"}.get(setup.question().answer, "neither")}


def _case(setup: SetUp) -> Case:
    return setup.now.case


def _winding_volts(case: Case) -> float:
    return 0.0 if case.short else float(np.abs(case.at_first.voltages)[0])


def _asks_voltage(case: Case) -> str:
    return (
        f"The windings of a motor are joined in {case.connected.kind} on {case.supply:.0f} V between lines. What voltage is "
        f"across each winding?"
    )


def _because_voltage(case: Case) -> str:
    star = case.connected.kind == "star"
    sum_of = f"{case.supply:.0f} V / √3 = " if star else ""
    return (
        f"In {case.connected.kind} each winding lies {'from a line to the star point' if star else 'between two lines'}: "
        f"{sum_of}{shown(_winding_volts(case))} V."
    )


def _line_amperes(case: Case) -> float:
    return 0.0 if case.short else float(np.abs(case.at_first.line_currents).max())


def _torque(case: Case) -> float:
    return 0.0 if case.short else abs(float(case.at_first.torque))


def _why(setup: SetUp) -> Reasons | None:
    case = _case(setup)
    fits = setup.typed.plate.fits(setup.typed.supply)
    if fits == "neither":
        return None
    winding, higher = setup.typed.plate.delta_voltage, setup.typed.plate.star_voltage
    supply = setup.typed.supply
    gets = {"star": supply / np.sqrt(3), "delta": supply}
    other = "delta" if fits == "star" else "star"
    return statements(
        f"The plate says {case.plate.words}, the supply is {supply:.0f} V, so the windings are joined in {fits}. Why?",
        "a winding is made for {:.0f} V, and in {} it gets {:.0f} V",
        (winding, fits, gets[fits]),
        [
            ((higher, fits, gets[other]), STAR_AND_DELTA),
            ((winding, fits, gets[other]), ""),
            ((higher, fits, gets[fits]), ""),
        ],
        f"In star a winding gets the line voltage over √3, in delta the line voltage; it is made for {winding:.0f} V, the lower "
        f"figure of the plate.",
    )


KINDS = (
    forward("which way the shaft turns", _mistaken_turning, setup=lambda dice, settings: by_hand.turning_setup(dice), aside=("joined",)),
    Kind("stud", "to which stud a lead goes", _stud, answered=PRESSED, setup=_swapped, even=False, aside=(*ANY, "joined")),
    forward("whether in star or in delta", _mistaken_joining, name="joining", setup=_asked("joining")),
    figure(
        "figure",
        "what voltage a winding has",
        "V",
        of=_case,
        asks=_asks_voltage,
        size=_winding_volts,
        because=_because_voltage,
        slips=lambda case: {LINE: case.supply, PER_PHASE: case.supply / np.sqrt(3)},
        setup=_joined,
        aside=ANY,
    ),
    forward("what switches it off", name="trips", setup=_tripping),
    compare(
        lambda setup: f"A motor of {_case(setup).plate.words} on {_case(setup).supply:.0f} V is joined in {_case(setup).connected.kind}.",
        (
            Change("joined", one_of("star", "delta"), "the connection of the windings"),
            Change("load", one_of(20.0, 50.0)),
        ),
        (
            Measure(
                "the torque that load and bearings take",
                lambda case: case.friction,
                "N m",
                "The load hangs on what is driven, not on the motor.",
            ),
            Measure(
                "the voltage of a winding",
                _winding_volts,
                "V",
                "In star a winding gets the line voltage over √3, in delta the line voltage.",
            ),
            Measure(
                "the current in a line, before the shaft moves",
                _line_amperes,
                "A",
                "In star a line carries a third of what it carries in delta.",
            ),
            Measure(
                "the torque, before the shaft moves",
                _torque,
                "N m",
                "Torque goes with the square of a winding's voltage: in star a third of that in delta.",
            ),
        ),
        of=_case,
        setup=_joined,
        aside=ANY,
    ),
    why(_why, words="why star or delta", setup=_joined, aside=ANY),
    # delta and star together would be a short circuit, and so are never the answer
    forward("which contactors are closed", name="contactors", without=("delta-star",), setup=_asked_of_the_starter("closed")),
    forward("which way round the delta is gentler", name="way", setup=_asked_of_the_starter("way"), even=False),
    forward("how high the peak at the change-over is", name="peak", setup=_asked_of_the_starter("peak"), even=False),
)
