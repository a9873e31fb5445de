"""The kinds of question on measuring a motor that fails."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace

from physics.measuring.limits import unbalance
from scenes.drives.instruments.case import Case, Condition
from scenes.drives.instruments.diagnosis import telling, usual_measurements
from scenes.drives.instruments.measured import CLAMP, INSULATION, OHMMETER, Laid, measure
from scenes.drives.instruments.order import settings_of
from scenes.drives.instruments.question import said_figure, sheet
from scenes.questions.backward import backward
from scenes.questions.compare import Change, Measure, compare, one_of
from scenes.questions.figures import figure
from scenes.questions.kinds import Kind, SetUp, forward
from scenes.questions.mistakes import ONE_WINDING, STAR_AND_DELTA, WIDEST
from scenes.questions.why import Reasons, why
from scenes.scene.question import Question
from scenes.scene.typed import shown

LIVE, DEAD = Condition(True), Condition(False)
SOUND = {"fault": "sound", "sticks": False, "asked": "sheet"}
THIS_ONE = {"fault": "This fault has no part in it."}
ACROSS = Laid(OHMMETER, ("U1", "V1"), DEAD)
TO_EARTH = Laid(INSULATION, ("U1", "PE"), DEAD)
CLAMPED = tuple(Laid(CLAMP, (line,), LIVE) for line in ("L1", "L2", "L3"))


def _case(setup: SetUp) -> Case:
    return setup.typed.case


def _ohms(case: Case) -> float:
    return measure(case, ACROSS).value


def _one_winding(case: Case) -> float:
    """Ohms, as they are told."""
    return round(case.winding_ohm, 3)


def _sound(case: Case, other: bool = False) -> float:
    """Ohms between two terminals of a sound motor, in its own or the `other` connection, from what is told."""
    return _one_winding(case) * (2 if (case.joined == "star") != other else 2 / 3)


def _asks_ohms(case: Case) -> str:
    return (
        f"A sound motor has {_one_winding(case):.3f} Ω a winding and is joined in {case.joined}. It is dead, its links are on: "
        f"what does the ohmmeter show between U1 and V1?"
    )


def _because_ohms(case: Case) -> str:
    if case.joined == "star":
        return f"In star there are two windings in series between two terminals: 2 × {_one_winding(case):.3f} Ω = {shown(_sound(case))} Ω."
    return f"In delta there is one winding beside the two others in series: 2/3 × {_one_winding(case):.3f} Ω = {shown(_sound(case))} Ω."


def _shows(setup: SetUp) -> Question:
    """What the ohmmeter shows, as a multiple of a winding, so that star and delta can be told apart whatever the motor."""
    case = _case(setup)
    answer = _times(case, _ohms(case))
    return Question("", ((answer, f"{answer} times"),), answer, _because_ohms(case))


def _times(case: Case, ohms: float) -> str:
    return f"{ohms / case.winding_ohm:.2f}"


def _amperes(case: Case) -> list[float]:
    """As the clamp shows them."""
    return [float(f"{measure(case, laid).value:.1f}") for laid in CLAMPED]


def _unbalance(case: Case) -> float:
    return 100 * float(unbalance(_amperes(case)))


def _asks_unbalance(case: Case) -> str:
    return (
        f"The lines L1, L2, L3 of a running motor carry {', '.join(f'{each:.1f} A' for each in _amperes(case))}. How large is "
        f"the unbalance of its currents, the largest deviation from the mean over the mean?"
    )


def _because_unbalance(case: Case) -> str:
    three = _amperes(case)
    mean = sum(three) / 3
    added, most = " + ".join(f"{each:.1f} A" for each in three), max(abs(each - mean) for each in three)
    return (
        f"The mean: ({added}) / 3 = {mean:.6g} A. The largest deviation from it, {most:.5g} A, as a share of it: {most:.5g} A / "
        f"{mean:.6g} A = {shown(_unbalance(case))} %."
    )


def _widest(case: Case) -> dict[str, float]:
    three = _amperes(case)
    return {WIDEST: 100 * (max(three) - min(three)) * 3 / sum(three)}


def _why(setup: SetUp) -> Reasons | None:
    """Figures that a sound motor would have too show nothing."""
    case = _case(setup)
    records = [measure(case, laid) for laid in usual_measurements()]
    tell = telling(case, records)
    dull = [each for each in records if each not in tell]
    if not tell or len(dull) < 3:
        return None
    true = tell[0]
    setup.dice.shuffle(dull)
    same = [each for each in dull if each.laid.instrument == true.laid.instrument] + dull
    return Reasons(
        f"{sheet(case)} The fault: {case.fault.words(case.joined)}. Which of these figures is not that of a sound motor, and so shows it?",
        said_figure(true),
        [(said_figure(each), "") for each in dict.fromkeys(same)],
        setup.question().reason,
    )


def _why_shown(case: Case) -> Laid:
    """Where that figure was measured."""
    return telling(case, [measure(case, laid) for laid in usual_measurements()])[0].laid


def _measured(kind: Kind, where: Callable[[Case], Laid]) -> Kind:
    """The same, shown once it is answered with the instrument on what was measured, and the motor as it was then."""

    def put(setup: SetUp) -> Question | None:
        asked = kind.put(setup)
        return asked and replace(asked, shows=tuple(settings_of(where(_case(setup))).items()))

    return replace(kind, put=put)


_KINDS = (
    forward("which fault it is", even=False),
    backward(
        "joined",
        "whether it is joined in star or in delta",
        "joined",
        asks=lambda setup, times: (
            f"A sound motor is dead, its links are on. Between U1 and V1 the ohmmeter shows {times} the resistance of one "
            f"winding. How is it joined?"
        ),
        says=lambda setup: f"in {setup.settings['joined']}",
        hidden=None,
        result=_shows,
        mistaken=lambda setup: {STAR_AND_DELTA: _times(_case(setup), _sound(_case(setup), other=True))},
        setup=lambda dice, settings: SOUND,
    ),
    figure(
        "figure",
        "what the ohmmeter shows",
        "Ω",
        of=_case,
        asks=_asks_ohms,
        size=_sound,
        because=_because_ohms,
        slips=lambda case: {ONE_WINDING: _one_winding(case), STAR_AND_DELTA: _sound(case, other=True)},
        setup=lambda dice, settings: SOUND,
    ),
    figure(
        "unbalance",
        "how large the unbalance is",
        "%",
        of=_case,
        asks=_asks_unbalance,
        size=_unbalance,
        because=_because_unbalance,
        slips=_widest,
        setup=lambda dice, settings: {
            "fault": dice.choice(("uneven-L1", "uneven-L2", "uneven-L3", "shorted-U", "shorted-V", "shorted-W")),
            "sticks": False,
        },
    ),
    compare(
        lambda setup: f"A sound motor in {_case(setup).joined} is measured.",
        (Change("fault", one_of("open-U", "open-W", "shorted-U", "earth-U", "lost-L1", "lost-L3", "overload"), said={"sound": "none"}),),
        (
            Measure(
                "the resistance between U1 and V1, dead, links on",
                _ohms,
                "Ω",
                "An open winding leaves fewer paths, shorted turns less wire; a fault outside the motor does not show here.",
                THIS_ONE,
                settings_of(ACROSS),
            ),
            Measure(
                "the insulation resistance from U1 to earth",
                lambda case: measure(case, TO_EARTH).value / 1e6,
                "MΩ",
                "Only an earth fault lowers the insulation resistance.",
                THIS_ONE,
                settings_of(TO_EARTH) | {"leads": False},  # the tester's voltage shall reach the winding alone
            ),
            Measure(
                "the current in L3",
                lambda case: measure(case, CLAMPED[2]).value,
                "A",
                "A lost line carries nothing; what load and field ask for comes through the others.",
                THIS_ONE,
                settings_of(CLAMPED[2]),
            ),
        ),
        of=_case,
        setup=lambda dice, settings: SOUND,
    ),
    why(_why, words="which figure shows it", setup=lambda dice, settings: {"asked": "sheet"}),
)
WHERE: dict[str, Callable[[Case], Laid]] = {
    "joined": lambda case: ACROSS,
    "figure": lambda case: ACROSS,
    "unbalance": lambda case: CLAMPED[0],
    "why": _why_shown,
}
KINDS = tuple(_measured(kind, WHERE[kind.name]) if kind.name in WHERE else kind for kind in _KINDS)
