"""The search for the circuit whose values come nearest to those of a nameplate.

Sought are the loss torque, R1, one leakage reactance X for stator and rotor alike, R2 and XM; for a rotor with two cages
also the leakage of the running cage and the resistance of the starting cage; where the leakage saturates also the part of
it that does. The unknowns are the square root of the loss torque over its usual value, so that it may be 0, then the
logarithms of the others in per unit of the rated impedance, so that they stay above 0.

Six values, three of them given on every plate, do not fix up to eight unknowns. What is left open goes to what is usual (see
`usual`): a weak pull, which gives way to any value of the plate.
"""

from __future__ import annotations

import math
from collections.abc import Iterable
from typing import Any

import numpy as np

from physics.arguments import NumberOrArray
from physics.induction import EquivalentCircuit
from physics.nameplate import usual
from physics.nameplate.least_squares import central_differences, least_squares
from physics.nameplate.plate import Nameplate

ONE_CAGE, TWO_CAGES = 5, 7
"""Unknowns of a circuit with one cage and with two; one more where leakage saturates."""

VALUES = ("current", "power factor", "torque", "breakdown torque", "starting current", "starting torque")

# By what fraction each may be missed before it counts.
_CLOSENESS = np.array([0.001, 0.001, 0.001, 0.0015, 0.0015, 0.0015])
_SPREAD_AT = 4.0  # of these, a miss weighs so much more that several smaller ones are better than one large one
_FARTHEST = 12.0  # logarithm of an impedance in per unit: a search that runs away is still a circuit
_ENOUGH = 20.0  # sum of the squared residuals of a circuit that is met and not unusual
_POINTS = 36  # of the curve up to standstill, on which the breakdown is looked for
_BEYOND = np.geomspace(1.1, 6.0, 12)  # slips past standstill: a higher peak there would be taken for the breakdown


class _Circuits(EquivalentCircuit):
    """Many of one supply, with resistances and reactances of shape (..., 1). They are made here, and so not checked."""

    def __post_init__(self) -> None:
        pass

    def drawn(self, slips: np.ndarray) -> tuple[np.ndarray, np.ndarray]:
        """Stator current, complex A, and gap torque, N m, at slips (..., m) above 0."""
        gap, series = self._impedances(slips, self.rotor_impedance(slips))
        current = self.phase_voltage / series
        power = 3.0 * (current.real**2 + current.imag**2) * gap.real
        return current, power * self.pole_pairs / (2.0 * math.pi * self.frequency)


def fitted_unknowns(plate: Nameplate, guesses: np.ndarray, most_rounds: int) -> np.ndarray:
    """The unknowns (n,) of the best circuit found from the rows of `guesses` (k, n)."""
    slips = np.concatenate([np.geomspace(plate.slip, 1.0, _POINTS), _BEYOND])

    def residuals(unknowns: np.ndarray) -> np.ndarray:
        return _residuals(plate, unknowns, _peaks(plate, unknowns, slips))

    def slopes(unknowns: np.ndarray) -> np.ndarray:
        # at a peak the torque does not change with the slip, so its slip may be held
        held = _peaks(plate, unknowns, slips)[:, np.newaxis]
        return central_differences(lambda probed: _residuals(plate, probed, held), unknowns)

    found = least_squares(residuals, guesses, most_rounds, slopes, _ENOUGH)
    return found[np.argmin(np.sum(residuals(found) ** 2, axis=-1))]


def circuit_of(plate: Nameplate, unknowns: np.ndarray) -> EquivalentCircuit:
    """The circuit of such unknowns (n,)."""
    return EquivalentCircuit(*_supplied(plate, _impedances(plate, unknowns).tolist()))


def loss_torque(plate: Nameplate, unknowns: np.ndarray) -> np.ndarray:
    """N m at rated speed, (...), of unknowns (..., n)."""
    return unknowns[..., 0] ** 2 * usual.loss_torque(plate)


def given(plate: Nameplate) -> dict[str, float]:
    """What is on the plate, of that which a circuit can be asked for: by the names in `VALUES`."""
    values = (
        plate.current,
        plate.power_factor,
        plate.torque,
        plate.breakdown_torque,
        plate.starting_current,
        plate.starting_torque,
    )
    return {name: value for name, value in zip(VALUES, values, strict=True) if value is not None}


def values_of(plate: Nameplate, current: np.ndarray, torque: np.ndarray, lost: NumberOrArray, slip: NumberOrArray) -> np.ndarray:
    """The six `VALUES` (..., 6) by the complex stator `current` (..., 3), A, and the gap `torque` (..., 3), N m, at rated slip,
    standstill and breakdown, `lost` N m of loss torque (...) and the breakdown `slip` (...)."""
    size, times, lost = np.abs(current), torque / plate.torque, lost / plate.torque
    values = (
        size[..., 0],
        current[..., 0].real / size[..., 0],
        plate.torque * (times[..., 0] - lost),
        times[..., 2] - lost * (1.0 - slip) / (1.0 - plate.slip),
        size[..., 1] / plate.current,
        times[..., 1],
    )
    return np.stack(values, axis=-1)


def _peaks(plate: Nameplate, unknowns: np.ndarray, slips: np.ndarray) -> np.ndarray:
    """Slips (..., 2) at which circuits of unknowns (..., n) have most torque, up to standstill and beyond it."""
    torques = _circuits(plate, unknowns).drawn(slips)[1]
    best = np.clip(np.argmax(torques[..., :_POINTS], axis=-1), 1, _POINTS - 2)[..., np.newaxis]
    # the parabola through the highest point and its neighbours, over the logarithm of the slip
    before, there, after = _columns(np.take_along_axis(torques, best + np.array([-1, 0, 1]), -1))
    bent = np.minimum(before - 2.0 * there + after, -1e-12 * there)
    off = np.minimum(np.maximum(0.5 * (before - after) / bent, -1.0), 1.0)
    beyond = _BEYOND[np.argmax(torques[..., _POINTS:], axis=-1)]
    return np.stack([slips[best[..., 0]] * (slips[1] / slips[0]) ** off, beyond], axis=-1)


def _residuals(plate: Nameplate, unknowns: np.ndarray, peaks: np.ndarray) -> np.ndarray:
    """Misses of unknowns (..., n) over what is allowed, and what is unusual about them, (..., m)."""
    slips = np.empty((*unknowns.shape[:-1], 4))
    slips[..., :2], slips[..., 2:] = (plate.slip, 1.0), peaks
    current, torque = _circuits(plate, unknowns).drawn(slips)
    values = values_of(plate, current[..., :3], torque[..., :3], loss_torque(plate, unknowns), slips[..., 2])
    known = given(plate)
    asked = [VALUES.index(name) for name in known]
    misses = (values[..., asked] / np.array(list(known.values())) - 1.0) / _CLOSENESS[asked]
    others = [
        (values[..., VALUES.index(name)] / multiple - 1.0) / usual.SPREAD_OF_MULTIPLES for name, multiple in usual.multiples(plate).items()
    ]
    others.append(np.maximum(torque[..., 3] / plate.torque / values[..., 3] - 1.0, 0.0) / _CLOSENESS[3])
    others.extend(usual.oddities(plate, _within_reason(unknowns), unknowns[..., 0]))
    residuals = np.concatenate([misses, np.stack(others, axis=-1)], axis=-1)
    return residuals * np.sqrt(1.0 + (residuals / _SPREAD_AT) ** 2)


def _within_reason(unknowns: np.ndarray) -> np.ndarray:
    """The logarithms of the impedances (..., n - 1)."""
    return np.minimum(np.maximum(unknowns[..., 1:], -_FARTHEST), _FARTHEST)


def _impedances(plate: Nameplate, unknowns: np.ndarray) -> np.ndarray:
    """R1, X, R2 and XM in ohm, of a second cage the leakage of the running cage and the resistance of the starting cage, and
    the leakage that saturates, (..., n - 1)."""
    return plate.line_voltage / math.sqrt(3.0) / plate.current * np.exp(_within_reason(unknowns))


def _circuits(plate: Nameplate, unknowns: np.ndarray) -> _Circuits:
    return _Circuits(*_supplied(plate, _columns(_impedances(plate, unknowns)[..., np.newaxis, :])))


def _columns(values: np.ndarray) -> list[np.ndarray]:
    """Values (..., n) as n of (...): a search asks thousands of times, and for these views numpy's own way takes longer than the sums."""
    return [values[..., k] for k in range(values.shape[-1])]


def _supplied(plate: Nameplate, impedances: Iterable[Any]) -> tuple[Any, ...]:
    """The arguments of a circuit with these impedances on the supply of the plate."""
    stator_resistance, leakage, rotor_resistance, magnetising, *more = impedances
    running_leakage, starting_resistance = more[:2] or (0.0, math.inf)
    saturation = (more[2], plate.current) if len(more) > 2 else ()
    return (
        stator_resistance, leakage, rotor_resistance, leakage, magnetising,
        plate.line_voltage, plate.frequency, plate.poles, starting_resistance, running_leakage, *saturation,
    )  # fmt: skip
