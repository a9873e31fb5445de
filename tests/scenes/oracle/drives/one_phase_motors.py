"""The bench's motors on one phase, worked out by phasors here.

Both have two poles on 50 Hz: the 11 kW one of the terminal box on 400 V, in star or in delta; and a single-phase one on 230 V: main
winding 2.6 + j3.8, auxiliary 5 + j5.5 ohm with 1.25 times its turns, rotor 4.4 + j3.8 and magnetising reactance 110 ohm (of both
fields), 25 or 100 microfarad; rated slips 35/1500 and 0.034.
"""

from __future__ import annotations

import cmath
import math
from functools import lru_cache

import numpy as np

from physics.terminals import Wiring
from tests.physics.induction.test_joined_windings import expected

A = cmath.rect(1, 2 * math.pi / 3)
OMEGA = 100 * math.pi
TURNS = 400 / 690
FARAD = {"run": 25e-6, "start": 100e-6}
STRAIGHT = {"L1": "U1", "L2": "V1", "L3": "W1"}


def gap_of_one(slip: float) -> complex:
    """Ohm of the magnetising reactance beside the rotor."""
    if abs(slip) < 1e-12:
        return 110j
    rotor = 4.4 / slip + 3.8j
    return 110j * rotor / (110j + rotor)


def of_one(speed: float, farad: float | None, main: int, auxiliary: int):
    """Currents of main and auxiliary, of the two fields, and what these induce: unknown are the fields' currents f and b, main f + b and
    the auxiliary, whose field lies a quarter turn behind, j (f - b) / 1.25."""
    z = gap_of_one(1 - speed), gap_of_one(1 + speed)
    rows = [[2.6 + 3.8j + z[0], 2.6 + 3.8j + z[1]]]
    own = 5 + 5.5j + (0 if farad is None else 1 / (1j * OMEGA * farad))
    if farad is None:
        rows.append([1, -1])
    else:
        rows.append([own * 1j / 1.25 + 1.25j * z[0], -own * 1j / 1.25 - 1.25j * z[1]])
    f, b = np.linalg.solve(np.array(rows), [230 * main, 0 if farad is None else 230 * auxiliary])
    return np.array([f + b, 1j * (f - b) / 1.25]), (f, b), (f * z[0], b * z[1])


@lru_cache(maxsize=4096)
def of_three(motor: str, lost: str, speed: float):
    """Currents of the windings and torque; the motor for delta has 690/400 of the other's turns."""
    delta = motor == "delta"
    links = (("U1", "W2"), ("V1", "U2"), ("W1", "V2")) if delta else (("W2", "U2"), ("U2", "V2"))
    links = tuple(link for link in links if "W2" not in link) if lost == "W" else links
    leads = {line: stud for line, stud in STRAIGHT.items() if line != lost}
    windings, lines, torque = expected(Wiring(leads, links), 400 * TURNS if delta else 400.0, 50.0, speed)
    scale = TURNS if delta else 1.0
    return scale * windings, scale * lines, torque / 2  # two poles, not four


def torque_of(settings: dict, speed: float, starting: bool) -> float:
    motor = settings["motor"]
    if motor in ("star", "delta"):
        return of_three(motor, settings["open"], round(speed, 12))[2]
    _, f, e = of_one(speed, capacitor(motor, starting), *signs_of(settings))
    return 2 * (e[0] * f[0].conjugate() - e[1] * f[1].conjugate()).real / OMEGA


def capacitor(motor: str, starting: bool) -> float | None:
    return FARAD["run"] if motor == "run" else FARAD["start"] if motor == "start" and starting else None


def signs_of(settings: dict) -> tuple[int, int]:
    return tuple(-1 if settings[name] == "swapped" else 1 for name in ("main", "ends"))


@lru_cache(maxsize=1)
def rated() -> dict:
    """Torque and line current of each motor at its rated point, by bisection where that is a torque."""
    windings, lines, torque = of_three("star", "nothing", 1 - 35 / 1500)
    found = {"star": (torque, np.abs(lines).max())}
    windings, lines, torque = of_three("delta", "nothing", 1 - 35 / 1500)
    found["delta"] = (torque, np.abs(lines).max())
    settings = {"main": "marked", "ends": "marked"}
    torque = torque_of(settings | {"motor": "run"}, 1 - 0.034, False)
    for motor in ("run", "start", "main"):
        low, high = 0.85, 1.0
        for _ in range(40):
            middle = (low + high) / 2
            low, high = (middle, high) if torque_of(settings | {"motor": motor}, middle, False) > torque else (low, middle)
        currents, _, _ = of_one(low, capacitor(motor, False), 1, 1)
        found[motor] = torque, abs(currents.sum())
    return found


def axis_of(letter: str) -> float:
    """Where a winding's field points, degrees counter-clockwise from the right."""
    return {"U": 90.0, "V": -30.0, "W": -150.0, "Z": 180.0}[letter]


def winding_at(place, three_phase: bool) -> str:
    """Of three phases each has a sixth of the bore on either side, of two the main winding two thirds."""
    degrees = math.degrees(math.atan2(place[1], place[0])) % 360
    apart = {letter: min(abs((degrees - axis_of(letter) - side + 180) % 360 - 180) for side in (90, -90)) for letter in "UVWZ"}
    if three_phase:
        return min("UVW", key=apart.get)
    return "U" if apart["U"] < 60 else "Z"
