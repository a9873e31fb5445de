"""What a winder works out of a winding by hand: coils slot by slot from the table, phasors and waves by adding up.

Slots count clockwise looking at the drive end, as they do on the bench's winding; a coil's text names its start, where positive current
comes toward the drive end, and its finish.
"""

from __future__ import annotations

import cmath
import math
import re

import numpy as np

BELTS = (("U", 1), ("W", -1), ("V", 1), ("U", -1), ("W", 1), ("V", -1))  # of a pole pair, clockwise: any handbook (memory)


def stator(settings) -> tuple[int, int, int, int, int]:
    """Slots, poles, layers, coil pitch and turns of a coil: 48 of a phase in a pole pair."""
    slots, poles = map(int, settings["stator"].split("-"))
    layers = 1 if settings["winding"] == "one-layer" else 2
    full = slots // poles
    return slots, poles, layers, full * 5 // 6 if settings["winding"] == "short" else full, 48 // (slots * layers // (3 * poles))


def planned(settings) -> list[tuple[str, int, int, int]]:
    """(phase, start, finish, slot of the side at the bore) of each coil as a winder's table has it, phase by phase; slots from 0."""
    slots, poles, layers, pitch, _ = stator(settings)
    belt, coils = slots // (3 * poles), []
    for slot in range(slots):
        phase, sign = BELTS[slot // belt % 6]
        if layers == 2 or sign > 0:
            ends = (slot, (slot + pitch) % slots)
            coils.append((phase, *(ends if sign > 0 else ends[::-1]), slot))
    return sorted(coils, key=lambda coil: (coil[0], coil[3]))


def coils_of(settings) -> list[tuple[str, int, int]]:
    """The coils that the settings lay: a name of the usual states, or text."""
    name, coils = settings["laid"], [coil[:3] for coil in planned(settings)]
    each = len(coils) // 3
    if "-" in name:
        return [(p, int(a) - 1, int(b) - 1) for p, a, b in re.findall(r"([UVW])(\d+)-(\d+)", name)]
    if name == "reversed":
        return [(p, b, a) if k == each else (p, a, b) for k, (p, a, b) in enumerate(coils)]
    if name == "ends":
        return [(p, b, a) if p == "V" else (p, a, b) for p, a, b in coils]
    if name in ("early", "exchanged"):
        swapped = {"U": "U", "V": "W", "W": "V"}
        # where W belongs, its start and finish changed over, V lies 60 degrees behind U instead of 120
        return [(swapped[p], *((b, a) if name == "early" and p == "W" else (a, b))) for p, a, b in coils]
    return coils[: {"none": 0, "first": 1, "phase": each, "two": 2 * each}.get(name, 3 * each)]


def paths_of(settings) -> int:
    if settings["joined"] == "series":
        return 1
    slots, poles, layers, _, _ = stator(settings)
    groups = poles // 2 * layers
    shared = groups if groups > 1 else slots * layers // 6
    return next(n for n in range(2, 49) if shared % n == 0)


def slot_turns(settings, phase: str) -> np.ndarray:
    """Conductors of a phase toward the drive end in each slot, over the number of paths."""
    slots, _, _, _, turns = stator(settings)
    found = np.zeros(slots)
    for each, start, finish in coils_of(settings):
        if each == phase:
            found[start] += turns / paths_of(settings)
            found[finish] -= turns / paths_of(settings)
    return found


def currents(settings, angle: float) -> dict[str, float]:
    """Of U, V, W, a third of a cycle apart; none in a phase without coils."""
    laid = {phase for phase, _, _ in coils_of(settings)}
    return {p: settings["current"] * math.cos(angle - 2 * math.pi * k / 3) * (p in laid) for k, p in enumerate("UVW")}


def waves(settings) -> tuple[float, float]:
    """Peaks of the working waves that go clockwise and counter-clockwise: the discrete sum over the slots, at two instants."""
    slots, poles, _, _, _ = stator(settings)
    turn = np.exp(1j * math.pi * poles * np.arange(slots) / slots)  # clockwise electrical angle of each slot

    def wave(angle: float) -> complex:
        now = currents(settings, angle)
        return sum(now[p] * slot_turns(settings, p) @ turn for p in "UVW") / (math.pi * poles / 2)

    first, quarter = wave(0.0), wave(math.pi / 2)
    return abs(first - 1j * quarter) / 2, abs(first + 1j * quarter) / 2


def emf(settings, phase: str, order: int = 1) -> complex:
    """Of a phase, by the clockwise electrical angles of its coil sides; the angle is how far its axis lies clockwise of slot 1."""
    slots, poles, _, _, _ = stator(settings)
    turn = np.exp(1j * order * math.pi * poles * np.arange(slots) / slots)
    return complex(slot_turns(settings, phase) @ turn)


def wrong_of(settings) -> list[str]:
    slots, _, _, _, _ = stator(settings)
    right = settings | {"laid": "all"}
    if settings["laid"] in ("none", "first", "phase", "two", "all"):
        return []
    laid = {p for p, _, _ in coils_of(settings)}  # of each phase all coils
    return [p for p in "UVW" if p in laid and not np.allclose(slot_turns(settings, p), slot_turns(right, p))]


def first_slot_angle(settings) -> float:
    """Degrees counter-clockwise of slot 1, such that the axis of U as planned lies at 0."""
    slots, poles, _, _, _ = stator(settings)
    return math.degrees(cmath.phase(emf(settings, "U")) + math.pi / 2) / (poles / 2) % (720 / poles)


def slot_turns_alone(settings, phase: str) -> float:
    """What all coil sides of a phase would give in line."""
    _, _, _, _, turns = stator(settings)
    return 2 * turns / paths_of(settings) * sum(each == phase for each, _, _ in coils_of(settings))


def next_coil(settings):
    """The next coil of the phase in hand, or of the first phase that is not whole, by the winder's table; None where all are laid."""
    laid, coils = coils_of(settings), [coil[:3] for coil in planned(settings)]
    missing = [p for p in (settings["hand"], *"UVW") if sum(coil[0] == p for coil in laid) < len(coils) // 3]
    return next((coil for coil in coils if missing and coil[0] == missing[0] and coil not in laid), None)


def in_whole_degrees(ends):
    """Coils (phase, first angle, second angle), sorted, each angle from 0 to 359."""
    return sorted((phase, *sorted(round(each % 360 + 1e-6, 0) % 360 for each in (a, b))) for phase, a, b in ends)
