"""What is right or wrong with a joining, in words: of the windings' voltages and currents, not of a list of mistakes."""

from __future__ import annotations

import math

import numpy as np

from scenes.drives.terminal_box.case import BY_COPPER_ALONE, NEVER, Case
from scenes.drives.terminal_box.motors import FIT

PHASES = "UVW"
KINDS = {"star": "in star", "delta": "in delta"}


def judged(case: Case) -> str:
    """Whether the joining is right for plate and supply, and if not, why, as a phrase without a full stop."""
    wrong = fault(case)
    if not wrong:
        return f"{KINDS[case.connected.kind]} on {case.supply:.0f} V: right for this plate"
    return f"wrong: {wrong}"


def fault(case: Case) -> str:
    """What is wrong with it, "" if nothing is."""
    return misjoined(case) or voltage_fault(case)


def misjoined(case: Case) -> str:
    """What is wrong with the joining, whatever the voltages, "" if nothing is."""
    joining = case.joining
    if case.short:
        lines = " and ".join(f"L{k + 1}" for k, shorted in enumerate(case.network.shorted) if shorted)
        return f"{lines} are joined together, a short circuit"
    flowing = np.abs(case.at_first.currents) > 0
    if not flowing.any():
        return "no winding has a closed way for current"
    if "off" in joining.leads:
        lost = ", ".join(f"L{k + 1}" for k, stud in enumerate(joining.leads) if stud == "off")
        return f"lead {lost} is off, and one phase alone gives no starting torque" if case.turns == "none" else f"lead {lost} is off"
    volts = np.abs(case.at_first.voltages)
    across = [phase for phase, flows, each in zip(PHASES, flowing, volts, strict=True) if flows and each < 1e-6 * case.supply]
    if across:
        return f"both ends of winding {across[0]} are joined together, and current is driven round it"
    if not flowing.all():
        dead = ", ".join(phase for phase, flows in zip(PHASES, flowing, strict=True) if not flows)
        return f"a link or lead is missing or misplaced, and winding {dead} carries no current"
    if joining.reversed:
        return f"winding {joining.reversed[0]} is reversed, so the field does not rotate evenly"
    if case.connected.kind not in KINDS or uneven(case):
        return "joined neither in star nor in delta: the voltages differ"
    return ""


def voltage_fault(case: Case) -> str:
    """Whether a whole star or delta gives each winding what it is made for, "" if so."""
    volts, rated = float(np.abs(case.at_first.voltages).mean()), case.plate.delta_voltage
    kind = case.connected.kind
    if volts > rated * (1 + FIT):
        return f"{kind} on {case.supply:.0f} V gives each winding {volts:.0f} V, and it is made for {rated:.0f} V"
    if volts < rated * (1 - FIT):
        share = (volts / rated) ** 2
        return f"{kind} on {case.supply:.0f} V gives each winding {volts:.0f} V of its {rated:.0f} V: {100 * share:.0f} % of the torque"
    return ""


def uneven(case: Case) -> bool:
    return float(np.ptp(np.abs(case.at_first.voltages))) > 1e-6 * case.supply


def after(seconds: float) -> str:
    """A time, in words that fit how well it is known."""
    if seconds == NEVER:
        return "never"
    if seconds < 0.1:
        return "at once"
    return f"after {seconds:.1f} s" if seconds < 10 else f"after {seconds:.0f} s" if seconds < 100 else f"after {seconds / 60:.0f} min"


def hottest(case: Case) -> tuple[str, float]:
    """The winding that is first at its limit, and after how many seconds."""
    first = int(np.argmin(case.hot_after))
    return PHASES[first], case.hot_after[first]


def heated(case: Case) -> str:
    """When a winding is at its limit if nothing switches off, in few words."""
    seconds = NEVER if case.short else hottest(case)[1]
    return "never" if seconds == NEVER else "in minutes" if seconds > BY_COPPER_ALONE else after(seconds)


def heating(case: Case) -> str:
    """The same with its reason."""
    if case.short:
        return "the fault is ahead of the windings"
    phase, seconds = hottest(case)
    if seconds == NEVER:
        return "every winding bears its current"
    if seconds > BY_COPPER_ALONE:
        return f"winding {phase} overheats, so slowly that the heat that flows off decides"
    return f"winding {phase} is the first"


def tripping(case: Case) -> str:
    """What switches off and when."""
    words = {"": "nothing trips", "fuse": "fuses blow", "relay": "overload relay trips"}[case.trips]
    return words if not case.trips else f"{words} {after(case.off_after)}"


def rounded(volts: float) -> int:
    """Volts as they are told."""
    return 0 if math.isclose(volts, 0, abs_tol=0.5) else round(volts)
