"""The kinds of question on starting."""

from __future__ import annotations

from physics.starting.stages import Stage
from physics.starting.starts import RUNS
from scenes.drives.starting.case import Case
from scenes.drives.starting.motors import RATED_CURRENT, RATED_TORQUE
from scenes.drives.starting.starters import IN_A_SENTENCE
from scenes.questions.backward import backward
from scenes.questions.compare import Change, Measure, compare, one_of
from scenes.questions.figures import figure
from scenes.questions.kinds import SetUp, forward
from scenes.questions.mistakes import FIRST_POWER, MOTOR_FOR_LINE, NO_EFFECT, left_out
from scenes.questions.why import Reasons, statements, why
from scenes.scene.question import Question
from scenes.scene.typed import shown

TAPS = (50.0, 65.0, 80.0)
NO_TRANSFORMER = {"tap": "Started this way the motor is on no transformer, and a tap does nothing."}
NOTHING_TO_MOVE = 0.1  # N m: what a fan takes to move
DOUBTFUL = ("direct", "star-delta", "autotransformer")


def _case(setup: SetUp) -> Case:
    return setup.typed.case


def _at_standstill(case: Case) -> tuple[float, float]:
    """Of the first stage: A from the line, and N m."""
    stage = case.stages[0]
    assert isinstance(stage, Stage)
    point = stage.first.circuit(case.motor).at(1.0)
    return float(stage.line_current(case.motor, stage.first, point)), float(point.torque)


def _amperes(case: Case) -> float:
    return _at_standstill(case)[0]


def _torque(case: Case) -> float:
    return _at_standstill(case)[1]


def _direct(case: Case) -> tuple[float, float]:
    return _at_standstill(Case("direct", case.drive, case.load, case.inertia))


def _told(case: Case) -> tuple[float, float]:
    """Direct-on-line, A and N m as they are told."""
    amperes, torque = _direct(case)
    return round(amperes, 1), round(torque, 1)


def _how(case: Case) -> str:
    tapped = f" on its {100 * case.tap:g} % tap" if case.method == "autotransformer" else ""
    return f"{IN_A_SENTENCE[case.method]}{tapped}"


def _asks_current(case: Case) -> str:
    return (
        f"Started direct-on-line, a motor draws {_told(case)[0]:g} A at standstill. How much does it draw from the line "
        f"when it is started {_how(case)}?"
    )


def _asks_torque(case: Case) -> str:
    return f"Started direct-on-line, a motor has {_told(case)[1]:g} N m at standstill. How much has it when it is started {_how(case)}?"


def _law(case: Case, of_torque: bool) -> str:
    """Why so much is left, of the torque or of the line's current."""
    star, tap = case.method == "star-delta", f"{100 * case.tap:g} %"
    if of_torque:
        has = "In star each winding has 1/√3 of the voltage" if star else f"The motor has {tap} of the voltage"
        return f"{has}, and torque goes with the square of the voltage{': a third' if star else ''}."
    if star:
        return (
            "In star each winding has 1/√3 of the voltage, and so 1/√3 of the current; the line carries the current of one winding, no "
            "longer √3 times as much: a third altogether."
        )
    return f"The motor has {tap} of the voltage and so about {tap} of the current; of that current the line gives {tap}."


def _share(case: Case) -> float:
    """Of the voltage on a winding."""
    return 3**-0.5 if case.method == "star-delta" else case.tap


def _left(case: Case, direct: float) -> float:
    """What is left of the line's current, or of the torque."""
    return direct * _share(case) ** 2


def _because(case: Case, direct: float, unit: str) -> str:
    left = f"{shown(_left(case, direct))} {unit}"
    worked = f"{direct:g} {unit} / 3" if case.method == "star-delta" else f"{case.tap:g}² × {direct:g} {unit}"
    return f"{_law(case, unit == 'N m')} {worked} = {left}."


def _slips(case: Case, direct: float) -> dict[str, float]:
    once = direct * _share(case)
    return {left_out("the second factor √3") if case.method == "star-delta" else MOTOR_FOR_LINE: once}


def _of_the_line(setup: SetUp) -> Question:
    """The share of the direct current that the line gives, in whole %."""
    case = _case(setup)
    answer = f"{100 * _amperes(case) / _direct(case)[0]:.0f}"
    return Question("", ((answer, f"{answer} %"),), answer, _because(case, _told(case)[0], "A"))


def _mistaken_tap(setup: SetUp) -> dict[str, str]:
    return {FIRST_POWER: f"{100 * _case(setup).tap:.0f}"}


def _mistaken_start(setup: SetUp) -> dict[str, str]:
    """Of one that stays at rest: with the torque of full voltage, or with torque in proportion to the voltage, it would move."""
    case = _case(setup)
    torques = {NO_EFFECT: _direct(case)[1], FIRST_POWER: _direct(case)[1] * _share(case)}
    rests = case.method in ("star-delta", "autotransformer") and _torque(case) < case.torque_to_move
    return {mistake: RUNS for mistake, torque in torques.items() if rests and torque >= case.torque_to_move}


def _doubtful(dice, settings) -> dict:
    """One of which the starter alone does not tell whether it runs up: an inverter brings up whatever the others would; what puts on
    full voltage in the end brings up all but a conveyor with a heavy load. A flywheel takes no torque, and so is always run up."""
    method = dice.choice(DOUBTFUL) if settings["method"] == "inverter" else settings["method"]
    if method in ("star-delta", "autotransformer"):
        return {"method": method, "drive": dice.choice(("fan", "pump", "conveyor"))}
    drives = ("fan", "pump", "conveyor", "conveyor", "conveyor")
    return {"method": method, "drive": dice.choice(drives), "load": float(dice.choice((80, 120, 160, 200, 200)))}


def _reduced(dice, settings) -> dict:
    return {"method": dice.choice(("star-delta", "autotransformer", "autotransformer")), "tap": dice.choice(TAPS)}


def _why(setup: SetUp) -> Reasons:
    case = _case(setup)
    full, share = _told(case)[1], _share(case)

    def so(voltage: float, goes: str, torque: float) -> tuple[str, str, str]:
        return "1/√3" if voltage == 3**-0.5 else f"{100 * voltage:.0f} %", goes, f"{torque:.1f}"

    square, once = "with the square of that", "in proportion to that"
    less = [(so(share, f"with the {power} of that", full * share**by), "") for power, by in (("cube", 3), ("fourth power", 4))]
    more = [(so(share, once, full * share), FIRST_POWER), (so(1.0, square, full), NO_EFFECT)]
    below = setup.dice.randint(0, len(less))  # so many are less than the right one, which is less than those of mistakes
    return statements(
        f"Started direct-on-line, a motor has {full:g} N m at standstill. How much is left when it is started {_how(case)}, and why?",
        "a winding has {} of its voltage, and torque goes {}: {} N m",
        so(share, square, _left(case, full)),
        [*less[:below], *setup.dice.sample(more, len(more) - below)],
        _because(case, full, "N m"),
    )


KINDS = (
    forward("whether the motor runs up", _mistaken_start, even=False, setup=_doubtful),
    backward(
        "tap",
        "which tap",
        "tap",
        asks=lambda setup, share: (
            f"Started by an autotransformer starter, a motor draws {share} of its direct-on-line current from the line at "
            f"standstill. On which tap is it?"
        ),
        says=lambda setup: f"{setup.settings['tap']:g} %",
        values=lambda setup: TAPS,
        hidden=None,
        result=_of_the_line,
        mistaken=_mistaken_tap,
        setup=lambda dice, settings: {"method": "autotransformer", "tap": dice.choice(TAPS)},
    ),
    figure(
        "figure",
        "how much current the line gives",
        "A",
        of=_case,
        asks=_asks_current,
        size=lambda case: _left(case, _told(case)[0]),
        because=lambda case: _because(case, _told(case)[0], "A"),
        slips=lambda case: _slips(case, _told(case)[0]) | {NO_EFFECT: _told(case)[0]},
        setup=_reduced,
        tolerance=0.05,
    ),
    figure(
        "torque",
        "how much torque is left",
        "N m",
        of=_case,
        asks=_asks_torque,
        size=lambda case: _left(case, _told(case)[1]),
        because=lambda case: _because(case, _told(case)[1], "N m"),
        slips=lambda case: {FIRST_POWER: _told(case)[1] * _share(case), NO_EFFECT: _told(case)[1]},
        setup=_reduced,
        tolerance=0.05,
    ),
    compare(
        lambda setup: f"A motor is started {_how(_case(setup))}.",
        (
            Change("method", one_of("direct", "star-delta")),
            Change("tap", one_of(50.0, 80.0)),
            Change("load", one_of(20.0, 80.0)),
            Change("drive", one_of("fan", "pump", "conveyor")),
        ),
        (
            Measure(
                "the current from the line at standstill",
                _amperes,
                "A",
                f"The current at standstill hangs on the voltage of a winding alone, not on the load; rated current "
                f"is {RATED_CURRENT:.1f} A.",
                {"load": ""} | NO_TRANSFORMER,
            ),
            Measure(
                "the torque of the motor at standstill",
                _torque,
                "N m",
                f"The motor's torque goes with the square of a winding's voltage; rated torque is {RATED_TORQUE:.0f} N m.",
                NO_TRANSFORMER,
            ),
            Measure(
                "the torque that the load takes to move",
                lambda case: case.torque_to_move if case.torque_to_move > NOTHING_TO_MOVE else 0.0,
                "N m",
                "The load hangs on what is driven, not on the starter.",
            ),
        ),
        of=_case,
        setup=lambda dice, settings: {
            "method": dice.choice(DOUBTFUL),
            "tap": dice.choice((50.0, 80.0)),
            "load": float(dice.choice((20, 80))),
        },
    ),
    why(_why, words="how much torque is left, and why", setup=_reduced),
)
