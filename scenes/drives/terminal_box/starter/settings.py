"""The starter as settings: which stud each of the six leads is on, the timer, the interlock, and a star contactor that sticks.

Q1 is the main, Q2 the delta, Q3 the star contactor (common practice, no source). The leads of one pole of Q1 and of Q2 are on the same
line; Q3 joins the three leads of Q2.
"""

from __future__ import annotations

from dataclasses import dataclass

from physics.arguments import quoted
from physics.terminals import LINES, Wiring
from scenes.drives.starting.motors import RATED_TORQUE
from scenes.drives.terminal_box.board import BOARD, OFF, OWN, STRAIGHT, Joining
from scenes.drives.terminal_box.motors import PLATES, Plate
from scenes.scene.controls import Choice, Number, Switch
from visual.switchgear.star_delta_starter import DELTA, MAIN, STAR

NAMES = {MAIN: "Q1 main", DELTA: "Q2 delta", STAR: "Q3 star"}
POLES = tuple(f"{contactor}-{pole}" for contactor in ("Q1", "Q2") for pole in "246")
WAYS = {"U1-W2": ("W2", "U2", "V2"), "U1-V2": ("V2", "W2", "U2")}  # studs of the leads of Q2
ASKED = (("closed", "contactors"), ("way", "way round the delta"), ("peak", "peak at the change-over"))
_STARTER, _OWN = ("by", "starter"), ("way", OWN)


def controls() -> tuple[Choice | Number | Switch, ...]:
    """Of the starter."""
    ways = tuple((name, f"delta {pairs((*STRAIGHT, *studs))}") for name, studs in WAYS.items())
    return (
        Choice("way", "Six leads", "U1-W2", (*ways, (OWN, "as set below")), only_with=_STARTER),
        *[
            Choice(f"lead-{pole}", f"Lead of {pole[:2]}, pole {pole[3]}", at, tuple((stud, stud) for stud in (*BOARD, OFF)), only_with=_OWN)
            for pole, at in zip(POLES, (*STRAIGHT, *WAYS["U1-W2"]), strict=True)
        ],
        Number("timer", "Timer: time in star", 2.0, "s", 0.2, 10.0, 0.1, only_with=_STARTER),
        Number("pause", "Q2 and Q3 both open for", 50.0, "ms", 10.0, 200.0, 5.0, only_with=_STARTER),
        Switch("interlock", "Q2 and Q3 interlocked", True, only_with=_STARTER),
        Switch("sticks", "Q3 star sticks", False, only_with=_STARTER),
        Choice("asked-starter", "The question is about", "closed", ASKED, only_with=_STARTER),
    )


def leads_of(settings: dict) -> tuple[str, ...]:
    """The stud of each lead, of Q1 and then of Q2."""
    if settings["way"] == OWN:
        return tuple(settings[f"lead-{pole}"] for pole in POLES)
    return (*STRAIGHT, *WAYS[settings["way"]])


def as_settings(leads: tuple[str, ...]) -> dict[str, str]:
    """The settings that put the leads there as one's own."""
    return {f"lead-{pole}": stud for pole, stud in zip(POLES, leads, strict=True)}


def touched(leads: tuple[str, ...], first: str, second: str) -> tuple[str, ...]:
    """The leads once one and a stud have been pressed, or one dragged to the other: it goes there, or comes off if it was there.
    `ValueError`, in a sentence, where that cannot be."""
    for name in (first, second):
        if name not in (*BOARD, *POLES):
            raise ValueError(f"What can be joined is {', '.join((*BOARD, *POLES))}, not {quoted(name)}.")
    if (first in POLES) == (second in POLES):
        raise ValueError("On a starter the links are out: press a lead of Q1 or Q2 and then a stud.")
    pole, stud = (first, second) if first in POLES else (second, first)
    return tuple((OFF if at == stud else stud) if name == pole else at for name, at in zip(POLES, leads, strict=True))


def pairs(leads: tuple[str, ...]) -> str:
    """What Q1 and Q2 together join, in words."""
    return ", ".join(f"{main}-{delta}" for main, delta in zip(leads[:3], leads[3:], strict=True) if OFF not in (main, delta))


def other_way(leads: tuple[str, ...]) -> tuple[str, ...]:
    """The same star, the delta joined the other way round: each lead of Q2 on the end that is neither its present one nor of the winding
    that Q1 has on that line."""
    return (*leads[:3], *(next(s for s in leads[3:] if s != at and s[0] != main[0]) for main, at in zip(leads[:3], leads[3:], strict=True)))


def joining(leads: tuple[str, ...], closed: frozenset[str]) -> Joining:
    """What the contactors that are closed join on the board."""
    main, delta = leads[:3], leads[3:]
    links: list[tuple[str, str]] = []
    if STAR in closed:
        there = [stud for stud in delta if stud != OFF]
        links += zip(there, there[1:], strict=False)
    if DELTA in closed and MAIN in closed:
        links += zip(main, delta, strict=True)
    laid = tuple(f"{a}-{b}" for a, b in links if OFF not in (a, b) and a != b)
    return Joining(laid, main if MAIN in closed else (OFF,) * 3)


@dataclass(frozen=True)
class Setup:
    """What is set. leads: stud of each, Q1 first; supply: V between lines; frequency: Hz; load: N m, percent: the same of rated torque;
    timer, pause: s; asked: what the question is about."""

    leads: tuple[str, ...]
    plate: Plate
    supply: float
    frequency: float
    load: float
    percent: float
    timer: float
    pause: float
    interlock: bool
    sticks: bool
    asked: str
    colours: str

    @classmethod
    def of(cls, settings: dict) -> Setup:
        return cls(
            leads=leads_of(settings),
            plate=PLATES[settings["plate"]],
            supply=float(settings["supply"]),
            frequency=float(settings["hertz"]),
            load=settings["load"] / 100 * RATED_TORQUE,
            percent=settings["load"],
            timer=settings["timer"],
            pause=settings["pause"] / 1000,
            interlock=settings["interlock"],
            sticks=settings["sticks"],
            asked=settings["asked-starter"],
            colours=settings["colours"],
        )

    def wiring(self, *closed: str) -> Wiring:
        return joining(self.leads, frozenset(closed)).wiring

    @property
    def lines_shorted(self) -> str:
        """The lines that Q2 and Q3 join if both are closed, in words."""
        shorted = self.wiring(MAIN, DELTA, STAR).network(self.supply).shorted
        lines = [line for line, is_shorted in zip(LINES, shorted, strict=True) if is_shorted]
        return " and ".join((", ".join(lines[:-1]), lines[-1])) if lines else ""
