"""The kinds of question on changing speed."""

from __future__ import annotations

from scenes.drives.changing_speed.motors import FREQUENCY
from scenes.drives.changing_speed.snapshot import INVERTER, ONE_WINDING, TWO_WINDINGS, Setup
from scenes.questions.backward import backward
from scenes.questions.compare import Change, Measure, compare, one_of, times
from scenes.questions.figures import figure
from scenes.questions.kinds import SetUp, forward
from scenes.questions.mistakes import AS_MARKED, OTHER_END, POLES
from scenes.questions.speeds import field_speed, field_speed_because, field_speed_slips
from scenes.questions.why import Reasons, statements, why
from scenes.scene.question import Question
from scenes.scene.typed import shown

SWAPPED = {"clockwise": "counter-clockwise", "counter-clockwise": "clockwise"}


def _of(setup: SetUp) -> Setup:
    return setup.typed


def _by_inverter(dice, settings) -> dict:
    return {"method": INVERTER, "frequency": float(dice.choice((10, 15, 20, 25, 30, 40, 60)))}


def _tapped(dice, settings) -> dict:
    return {"method": ONE_WINDING}


def _joined(dice, settings) -> dict:
    return {"method": TWO_WINDINGS, "joined": dice.choice(("2", "4", "6", "12"))}


def _mistaken(setup: SetUp) -> dict[str, str]:
    speed, turns = setup.question().answer.split("-", 1)
    marked = setup.look.view.turning(-1.0)
    return {OTHER_END: f"{speed}-{SWAPPED[turns]}", AS_MARKED: f"{speed}-{marked}", POLES: f"{4500 - int(speed)}-{turns}"}


def _rpm(of: Setup) -> float:
    return field_speed(of.frequency, of.poles)


def _motor(of: Setup) -> str:
    return (
        f"A motor of {of.poles} poles"
        if of.method == INVERTER
        else f"A motor with two tapped windings is connected for {of.poles} poles and"
    )


def _asks_speed(of: Setup) -> str:
    fed = "is fed by an inverter at" if of.method == INVERTER else "fed with"
    return f"{_motor(of)} {fed} {of.frequency:g} Hz. How fast does its field rotate?"


def _speed(setup: SetUp) -> Question:
    of = _of(setup)
    answer = shown(_rpm(of))
    return Question("", ((answer, f"{answer} r/min"),), answer, field_speed_because(of.frequency, of.poles))


def _frequency_slips(of: Setup) -> dict[str, float]:
    return {POLES: _rpm(of) * of.poles / 60}


def _why(setup: SetUp) -> Reasons:
    of = _of(setup)
    pairs, cycles = of.poles // 2, f"{of.frequency:g}"
    return statements(
        f"A motor of {of.poles} poles is fed by an inverter at {of.frequency:g} Hz, and its field rotates at {_rpm(of):.0f} "
        f"r/min. Where does that come from?",
        "{} cycles in a {}, and {} to a revolution",
        (cycles, "second", _cycles(pairs)),
        [
            ((cycles, "second", _cycles(of.poles)), POLES),
            ((cycles, "minute", _cycles(pairs)), ""),
            ((f"{FREQUENCY:g}", "second", _cycles(pairs)) if of.frequency != FREQUENCY else (cycles, "minute", _cycles(of.poles)), ""),
        ],
        field_speed_because(of.frequency, of.poles),
    )


def _cycles(number: int) -> str:
    return f"{number} of them"


KINDS = (
    forward("how the field rotates", _mistaken, setup=_tapped),
    backward(
        "poles",
        "how many poles are connected",
        "joined",
        asks=lambda setup, speed: (
            f"A motor with two tapped windings on 50 Hz has its field rotate at {speed}. For how many poles is it connected?"
        ),
        says=lambda setup: f"{setup.settings['joined']} poles",
        hidden=None,
        result=_speed,
        mistaken=lambda setup: {POLES: shown(_rpm(_of(setup)) / 2)},
        setup=_joined,
    ),
    figure(
        "figure",
        "how fast the field rotates",
        "r/min",
        of=_of,
        asks=_asks_speed,
        size=_rpm,
        because=lambda of: field_speed_because(of.frequency, of.poles),
        slips=lambda of: field_speed_slips(of.frequency, of.poles),
        setup=lambda dice, settings: dice.choice((_by_inverter, _joined))(dice, settings),
        works="synchronous-speed",
    ),
    figure(
        "frequency",
        "which frequency the inverter gives",
        "Hz",
        of=_of,
        asks=lambda of: (
            f"The field of a motor of {of.poles} poles shall rotate at {_rpm(of):.0f} r/min. Which frequency must the inverter give?"
        ),
        size=lambda of: of.frequency,
        because=lambda of: f"f = nₛ × poles / 120 = {_rpm(of):.0f} r/min × {of.poles} / 120 = {of.frequency:g} Hz.",
        slips=_frequency_slips,
        setup=_by_inverter,
        hides={"frequency": FREQUENCY},
    ),
    compare(
        lambda setup: f"A motor of {_of(setup).poles} poles is fed by an inverter at {_of(setup).frequency:g} Hz.",
        (
            Change("frequency", times(2, 0.5, low=10, high=100)),
            Change("load", one_of(0.0, 20.0, 40.0)),
        ),
        (
            Measure("the speed of its field, in r/min", lambda now: 60 * now.synchronous_speed, "r/min", "nₛ = 120 f / poles."),
            Measure(
                "its breakdown torque",
                lambda now: now.breakdown,
                "N m",
                "Breakdown torque goes roughly with the square of volts per hertz.",
            ),
            Measure("its torque", lambda now: now.torque, "N m", "Running steadily, the torque is what the load takes."),
        ),
        setup=lambda dice, settings: {
            "method": INVERTER,
            "frequency": float(dice.choice((25, 50, 100))),
            "load": float(dice.choice((20, 40))),
            "lines": "L1-L2-L3",
        },
        aside=("lines",),
    ),
    why(_why, words="where the speed comes from", setup=_by_inverter),
)
