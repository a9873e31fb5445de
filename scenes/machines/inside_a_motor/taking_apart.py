"""In which order a motor is taken apart, and the way of each part.

The order is that of the workshop: leads off first, brushes lifted before anything is drawn over them, fan before the end shields,
both end shields before the rotor is withdrawn, bearings last of what turns (common practice, no source). The core is drawn out of its
frame at the end so that it is seen, and the terminal board lifted; in the workshop they stay there.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache

import numpy as np

from scenes.machines.inside_a_motor.parts import CAGE, PARTS, SLIP_RING

# what comes off in each step, in words, by the step's name
STEPS = {
    "box-cover": "terminal box cover off",
    "terminal-board": "leads off; terminal board out, to show it",
    "brush-cover": "brush gear cover off",
    "brushes": "brushes lifted out",
    "brush-holders": "brush-holders out",
    "cowl": "fan cowl off",
    "fan": "external fan drawn off",
    "key": "key out",
    "drive-shield": "drive-end shield off",
    "other-shield": "non-drive-end shield off",
    "rotor": "rotor withdrawn at the drive end",
    "bearings": "bearings drawn off",
    "frame": "frame off the core, to show it",
}
# what has to be done before a step; what is at different ends or places may come off in any order
_WAITS_FOR: dict[str, set[str]] = {
    "box-cover": set(),
    "brush-cover": {"box-cover"},
    "brushes": {"brush-cover"},
    "brush-holders": {"brushes"},
    "cowl": {"box-cover"},
    "fan": {"cowl"},
    "key": {"box-cover"},
    "drive-shield": {"key"},
    "other-shield": {"fan", "brush-holders"},
    "rotor": {"drive-shield", "other-shield"},
    "bearings": {"rotor"},
}
_ONLY_SLIP_RING = ("brush-cover", "brushes", "brush-holders")
ORDER = {CAGE: tuple(step for step in STEPS if step not in _ONLY_SLIP_RING), SLIP_RING: tuple(STEPS)}
_ON_FRAME = ("frame", "terminal-box", "terminal-board", "box-cover", "nameplate", "eye-bolt")
_ON_ROTOR = ("shaft", "key", "drive-bearing", "other-bearing", "rotor-core", "bars", "end-rings", "rotor-winding", "slip-rings")
_ON_SHIELD = ("other-shield", "brush-cover", "brushes", "brush-holders")


@dataclass(frozen=True)
class Distances:
    """How far, m: `cowl`, `fan`, `shield` and `frame` toward the non-drive end, `rotor` and `drive_shield` toward the drive end."""

    cowl: float
    fan: float
    shield: float
    frame: float
    rotor: float
    drive_shield: float
    drive_bearing: float
    other_bearing: float


DISTANCES = {
    CAGE: Distances(0.505, 0.390, 0.355, 0.300, 0.465, 0.665, 0.100, 0.130),
    SLIP_RING: Distances(0.500, 0.375, 0.340, 0.300, 0.545, 0.745, 0.100, 0.105),
}


def moves(motor: str) -> dict[str, list[tuple[str, tuple[float, float, float]]]]:
    """Of each part its moves: the step in which it makes them, and by how much, m."""
    far = DISTANCES[motor]
    found: dict[str, list[tuple[str, tuple[float, float, float]]]] = {part.key: [] for part in PARTS[motor]}

    def move(step: str, by: tuple[float, float, float], *names: str) -> None:
        for name in names:
            if name in found:
                found[name].append((step, by))

    move("box-cover", (0.0, 0.100, 0.0), "box-cover")
    move("terminal-board", (0.0, 0.066, 0.0), "terminal-board")
    move("brush-cover", (0.0, 0.150, 0.0), "brush-cover")
    move("brushes", (0.0, 0.130, 0.0), "brushes")
    move("brush-holders", (0.0, 0.086, 0.0), "brush-holders")
    move("cowl", (0.0, 0.0, -far.cowl), "cowl")
    move("fan", (0.0, 0.0, -far.fan), "fan")
    move("key", (0.0, 0.165, 0.0), "key")  # clear of the end shield that comes past
    move("drive-shield", (0.0, 0.0, far.drive_shield), "drive-shield")
    move("other-shield", (0.0, 0.0, -far.shield), *_ON_SHIELD)
    move("rotor", (0.0, 0.0, far.rotor), *_ON_ROTOR)
    move("rotor", (0.0, -0.115, 0.0), "key")
    move("bearings", (0.0, 0.0, far.drive_bearing), "drive-bearing")
    move("bearings", (0.0, 0.0, -far.other_bearing), "other-bearing")
    move("frame", (0.0, 0.0, -far.frame), *_ON_FRAME)
    move("frame", (0.0, 0.028, 0.0), "terminal-box", "terminal-board", "box-cover", "eye-bolt")
    move("frame", (-0.045, 0.0, 0.0), "nameplate")
    return found


_MOVES = {motor: moves(motor) for motor in PARTS}


def progress(motor: str, share: float) -> dict[str, float]:
    """Of each step how far it has come, 0 to 1, when the motor is apart by `share` of all; each begins when that before it has ended."""
    order = ORDER[motor]
    return {step: float(np.clip(share * len(order) - place, 0.0, 1.0)) for place, step in enumerate(order)}


def offsets(motor: str, share: float) -> dict[str, np.ndarray]:
    """How far each part is from where it is in the motor, m, (3,)."""
    come = {step: part * part * (3 - 2 * part) for step, part in progress(motor, share).items()}  # begins and ends gently
    return {name: sum((come[step] * np.array(by) for step, by in way), np.zeros(3)) for name, way in _MOVES[motor].items()}


def step_now(motor: str, share: float) -> str:
    """The step that is under way, or the last that is done; "" while the motor is together."""
    started = [step for step, part in progress(motor, share).items() if part > 1e-9]
    return started[-1] if started else ""


def in_sight(motor: str, share: float) -> set[str]:
    """The parts that nothing covers any more."""
    come = progress(motor, share)
    return {part.key for part in PARTS[motor] if not part.under or come[part.under] > 0.3}


def comes_off_in(motor: str, key: str) -> str:
    """The step in which a part first leaves its place; "" for what stays where it is in the workshop."""
    first = min((ORDER[motor].index(step) for step, _ in _MOVES[motor][key]), default=len(ORDER[motor]) - 1)
    return ORDER[motor][first] if ORDER[motor][first] in _WAITS_FOR else ""


@lru_cache(maxsize=64)
def before(motor: str, step: str) -> frozenset[str]:
    """The steps that have to be done before one."""
    own = _WAITS_FOR[step] & set(ORDER[motor])
    return frozenset(own.union(*(before(motor, each) for each in own)))
