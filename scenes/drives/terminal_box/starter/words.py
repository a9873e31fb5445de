"""What the starter does and why, in words, from what is closed and what that joins."""

from __future__ import annotations

from scenes.drives.terminal_box.starter.case import StarterCase, case_for
from scenes.drives.terminal_box.starter.settings import NAMES, Setup, pairs
from scenes.drives.terminal_box.starter.snapshot import CLOSED, Snapshot


def judged(case: StarterCase) -> str:
    """Whether leads and plate are right, as a phrase; why it is not switched on if that would do harm."""
    if not case.wrong:
        return f"six leads on {case.supply:.0f} V: right for this plate"
    return f"wrong: {case.wrong}{'' if case.may_run else '; so the isolator stays locked off'}"


def way(leads: tuple[str, ...]) -> str:
    """The way round the delta, by what is joined on L1."""
    return pairs(leads).split(",")[0]


def named(closed) -> str:
    """Contactors by their names."""
    return " and ".join(name for thing, name in NAMES.items() if thing in closed) or "none"


def held(setup: Setup) -> bool:
    """Whether the interlock keeps delta open, as star has not opened."""
    return setup.sticks and setup.interlock


def why(now: Snapshot) -> str:
    """What is closed at this step and what for, as a phrase."""
    setup, case = now.setup, now.case
    if now.step == "isolated":
        return judged(case)
    if now.step == "relay":
        return "the overload relay has tripped and opened all contactors"
    if now.step == "fuse":
        return f"the fuses have blown: {blown(setup)}"
    if now.step == "star" and held(setup) and now.time > setup.timer:
        return f"{named(now.closed)} are closed: Q3 sticks, and the interlock keeps Q2 open, so the motor stays in star"
    return {
        "star": f"{named(now.closed)} are closed: the ends meet in Q3, and each winding has {case.supply / 3**0.5:.0f} V "
        f"of the {case.supply:.0f} V",
        "open": "only Q1 is closed, for Q2 waits until Q3 has opened: the rotor's field decays and falls behind the supply",
        "delta": f"{named(now.closed)} are closed: they join {pairs(setup.leads)}, and each winding has {case.supply:.0f} V",
    }[now.step]


def blown(setup: Setup) -> str:
    """Why the fuses have blown."""
    if setup.sticks and not setup.interlock:
        return f"Q3 stuck, nothing kept Q2 open, and both join {setup.lines_shorted}, a short circuit"
    return "so large a current lasted too long"


def at_last(setup: Setup) -> frozenset[str]:
    """The contactors that are closed when timer and pause are over, if nothing has tripped by overload before."""
    if not case_for(setup).may_run or setup.sticks and not setup.interlock:
        return frozenset()
    return CLOSED["star" if setup.sticks else "delta"]


def rated(now: Snapshot) -> float:
    """Rated current of a line, A."""
    return now.setup.plate.line_current(now.setup.supply)
