"""The equivalent circuit behind a nameplate, and how well it tells what stands there.

Sought are R1, XM, one leakage reactance X for stator and rotor alike, R2, the torque lost and, of a rotor with two cages,
the leakage of the running cage and the resistance of the starting cage. One leakage for both sides loses nothing: how it
is divided between stator and rotor cannot be seen from outside (G. R. Slemon, Modelling of induction machines for
electric drives, 1989, memory).

What the circuit does not have, iron, friction, windage and stray losses, is taken together as a torque lost at the
shaft in proportion to speed: `loss_torque` at rated speed, none at standstill. So current, power factor and power of
the plate can all be met, and on a shaft it is a viscous `Friction`.

One cage is taken where it meets all six values of plate and catalogue, as that of many a textbook motor does. Real cages
have deep bars or two cages, with more resistance and less leakage at standstill than in running, and their catalogue
values only a circuit with two cages can have together. Much starting current beside little breakdown torque not even that
can have: it takes leakage that is less in starting than at breakdown, with no more resistance. The teeth of such motors
saturate with the leakage flux of the starting current; so part of the leakage may then fall with the current. How much is
sought too; the current at which half of that part is left is taken as the rated one, for the bridges over closed slots and
the tips of the teeth fill with little.

A plate alone says three things (current, power factor, torque, all at the rated slip) about seven unknowns. What it
leaves open is filled by what motors usually have (common practice, no source): stator resistance like that of both cages
together, three tenths of the losses outside the windings, a running cage with as much leakage again as the stator and, where
not given, a breakdown torque of 2.8, a starting torque of 2.3 and a starting current of 6.5 times the rated ones.
`NameplateFit.assumed` says so.

What even so cannot be met is missed by a little, all values by about as much, and the comparisons show it.
"""

from __future__ import annotations

import math
from collections.abc import Iterable
from dataclasses import dataclass
from functools import lru_cache
from typing import TypeVar

import numpy as np
from numpy.typing import ArrayLike

from physics import speeds
from physics.arguments import NumberOrArray
from physics.induction import EquivalentCircuit, torque_curve
from physics.nameplate.least_squares import least_squares
from physics.nameplate.plate import Nameplate
from physics.shaft.loads import Friction

Kind = TypeVar("Kind", bound=EquivalentCircuit)

USUAL_BREAKDOWN_TORQUE = 2.8
USUAL_STARTING_CURRENT = 6.5
USUAL_STARTING_TORQUE = 2.3
USUAL_LOSSES_OUTSIDE_WINDINGS = 0.3

# By what fraction each may be missed before it counts. What is usual breaks ties.
_CLOSENESS = {
    "current": 0.001,
    "power factor": 0.001,
    "torque": 0.001,
    "breakdown torque": 0.0015,
    "starting current": 0.0015,
    "starting torque": 0.0015,
}
_SPREAD_AT = 4.0  # of these, a miss weighs so much more that several smaller ones are better than one large one
_MET_WITHIN = 0.0005  # by a single cage, or two are taken
_MET_WITHOUT_SATURATION = 0.005  # by two, or part of the leakage saturates
_SPREAD_OF_THE_USUAL = 0.5
_SPREAD_OF_USUAL_CAGES = 2.0
_SPREAD_OF_USUAL_MULTIPLES = 0.05
_USUAL_STARTING_CAGE = 4.0  # times the resistance of the running cage
_FARTHEST = 12.0  # logarithm of an impedance over the rated one: a search that runs away is still a circuit
_ONE_CAGE = 5  # unknowns
_ROUNDS_IF_MET = 25  # of the search: where all can be met it is quick
_LARGEST_BREAKDOWN_SLIP = 0.95
_SLIPS_OF_BREAKDOWN = np.geomspace(0.01, 6.0, 64)
_SHARPNESS = 300.0  # of two humps that are alike the breakdown torque is taken a quarter of a per cent too high


@dataclass(frozen=True)
class Comparison:
    """One value on the plate beside that of the fitted circuit; multiples as multiples."""

    name: str
    plate: float
    fitted: float

    @property
    def difference(self) -> float:
        """By what fraction of the plate's value the fitted one is above it."""
        return self.fitted / self.plate - 1.0


@dataclass(frozen=True)
class NameplateFit:
    """`circuit`: the star that draws the same as the motor, whatever its connection; `loss_torque`: N m at rated speed,
    see above; `comparisons`: one for each value on the plate; `assumed`: what had to be taken as usual."""

    plate: Nameplate
    circuit: EquivalentCircuit
    loss_torque: float
    comparisons: tuple[Comparison, ...]
    assumed: tuple[str, ...]

    @property
    def friction(self) -> Friction:
        """The torque lost, as friction for the motor's `Shaft`."""
        return Friction(viscous=self.loss_torque / self.plate.speed)

    @property
    def worst(self) -> Comparison:
        """The comparison with the largest difference."""
        return max(self.comparisons, key=lambda each: abs(each.difference))

    @property
    def sentence(self) -> str:
        """How well the circuit tells the plate, in words."""
        worst, off = self.worst, self.worst.difference
        if abs(off) < 0.005:
            return "The circuit has every value of the plate within half a per cent."
        side = "above" if off > 0 else "below"
        return f"The circuit misses the {worst.name} most: it has {abs(off):.1%} {side} the plate's {worst.plate:.4g}."

    @property
    def assumption(self) -> str:
        """What had to be taken as usual, in a sentence; nothing where the plate said all."""
        return f"Not on the plate and assumed: {', '.join(self.assumed)}." if self.assumed else ""

    def shaft_torque(self, slip: ArrayLike) -> NumberOrArray:
        """N m that the shaft gives at `slip`, a number or an array: of the air gap, less the torque lost."""
        point = self.circuit.at(slip)
        return point.torque - self.loss_torque * point.speed / self.plate.speed


class _Circuits(EquivalentCircuit):
    """Many of one supply, with resistances and reactances of shape (..., 1). They are made here, and so not checked."""

    def __post_init__(self) -> None:
        pass

    @property
    def two_cages(self) -> bool:
        """Whether all of them have."""
        return self.starting_cage_resistance is not math.inf

    def breakdown(self) -> tuple[np.ndarray, np.ndarray]:
        """As of one circuit, (...). Where two humps are nearly alike it goes over from one to the other, and does not
        jump: a search that meets a jump stops there."""
        if self.saturates:
            return self._highest_of_a_few()
        if not self.two_cages:
            slip, torque = super().breakdown()
            return slip[..., 0], torque[..., 0]
        above, below = (part[..., 0, :] for part in self._torque_polynomials())
        slips, torques = torque_curve.humps(above, below)
        torques = np.maximum(torques, 0.0)
        most = torques.max(axis=-1, keepdims=True)
        share = (torques / most) ** _SHARPNESS
        whole = share.sum(axis=-1)
        return (share * slips).sum(axis=-1) / whole, most[..., 0] * whole ** (1.0 / _SHARPNESS)

    @property
    def saturates(self) -> bool:
        """Whether the leakage of all of them does."""
        return self.saturation_current != math.inf

    def _highest_of_a_few(self) -> tuple[np.ndarray, np.ndarray]:
        """The breakdown by a few points and the parabola through the highest three."""
        torques = self.at(_SLIPS_OF_BREAKDOWN).torque
        best = np.clip(np.argmax(torques, axis=-1), 1, _SLIPS_OF_BREAKDOWN.size - 2)[..., np.newaxis]
        before, there, after = (np.take_along_axis(torques, best + side, -1)[..., 0] for side in (-1, 0, 1))
        bent = np.minimum(before - 2.0 * there + after, -1e-12 * there)
        off = np.clip(0.5 * (before - after) / bent, -1.0, 1.0)
        ratio = _SLIPS_OF_BREAKDOWN[1] / _SLIPS_OF_BREAKDOWN[0]
        return _SLIPS_OF_BREAKDOWN[best[..., 0]] * ratio**off, there - 0.25 * (before - after) * off


@lru_cache(maxsize=64)
def fit_circuit(plate: Nameplate) -> NameplateFit:
    """The equivalent circuit of the motor with this plate."""
    unknowns = _of_one_cage(plate)
    if unknowns is None:
        unknowns = _best(plate, _guesses(plate))
        if _worst_miss(plate, unknowns) > _MET_WITHOUT_SATURATION:
            saturating = _best(plate, _guesses_of_saturation(plate))
            unknowns = min(unknowns, saturating, key=lambda found: _worst_miss(plate, found))
    circuit = _circuit(EquivalentCircuit, plate, _impedances(plate, unknowns).tolist())
    loss_torque = float(_loss_torque(plate, unknowns))
    fitted = _values(plate, circuit, loss_torque)
    comparisons = tuple(Comparison(name, value, float(fitted[name])) for name, value in _given(plate).items())
    return NameplateFit(plate, circuit, loss_torque, comparisons, _assumed(plate, fitted))


def _of_one_cage(plate: Nameplate) -> np.ndarray | None:
    """The unknowns of a single cage, where it meets all that a catalogue can say."""
    given = _given(plate)
    if len(given) < len(_CLOSENESS):
        return None
    unknowns = _best(plate, _guesses(plate)[:, :_ONE_CAGE], _ROUNDS_IF_MET)
    return unknowns if _worst_miss(plate, unknowns) <= _MET_WITHIN else None


def _worst_miss(plate: Nameplate, unknowns: np.ndarray) -> float:
    """As a fraction of what is given; without end where the breakdown torque comes only when it is turned backwards."""
    values = _values(plate, *_circuits(plate, unknowns))
    if values["breakdown slip"] > 1.0:
        return math.inf
    return max(abs(float(values[name]) / value - 1.0) for name, value in _given(plate).items())


def _best(plate: Nameplate, guesses: np.ndarray, most_rounds: int = 60) -> np.ndarray:
    """The unknowns that fit best of those found from the rows of `guesses`."""
    found = least_squares(lambda tried: _residuals(plate, tried), guesses, most_rounds)
    return found[np.argmin(np.sum(_residuals(plate, found) ** 2, axis=-1))]


def _given(plate: Nameplate) -> dict[str, float]:
    """What stands on the plate, of that which a circuit can be asked for."""
    values = {
        "current": plate.current,
        "power factor": plate.power_factor,
        "torque": plate.torque,
        "breakdown torque": plate.breakdown_torque,
        "starting current": plate.starting_current,
        "starting torque": plate.starting_torque,
    }
    return {name: value for name, value in values.items() if value is not None}


def _values(plate: Nameplate, circuits: EquivalentCircuit, loss_torque: NumberOrArray) -> dict[str, np.ndarray]:
    """The same of such circuits, each of shape (...)."""
    point = circuits.at(np.array([plate.slip, 1.0]))
    current = np.abs(point.stator_current)
    breakdown_slip, breakdown = circuits.breakdown()
    breakdown = breakdown - loss_torque * speeds.speed_at_slip(circuits.synchronous_speed, breakdown_slip) / plate.speed
    return {
        "current": current[..., 0],
        "power factor": point.power_factor[..., 0],
        "torque": point.torque[..., 0] - loss_torque,
        "breakdown torque": breakdown / plate.torque,
        "breakdown slip": breakdown_slip,
        "starting current": current[..., 1] / plate.current,
        "starting torque": point.torque[..., 1] / plate.torque,
    }


def _residuals(plate: Nameplate, unknowns: np.ndarray) -> np.ndarray:
    """Misses of unknowns (..., 5, 7 or 8) over what is allowed, and what is unusual about them, (..., m)."""
    values = _values(plate, *_circuits(plate, unknowns))
    residuals = []
    for name, value in _given(plate).items():
        miss = (values[name] / value - 1.0) / _CLOSENESS[name]
        residuals.append(miss * np.sqrt(1.0 + (miss / _SPREAD_AT) ** 2))
    # what a catalogue calls breakdown torque is had before standstill; a higher hump beyond is another machine
    residuals.append(np.maximum(values["breakdown slip"] - _LARGEST_BREAKDOWN_SLIP, 0.0) / _CLOSENESS["breakdown torque"])
    stator_resistance, leakage, rotor_resistance, _, *more_unknowns = np.moveaxis(_within_reason(unknowns), -1, 0)
    together = rotor_resistance
    if more_unknowns:
        running_leakage, starting_resistance, *saturable = more_unknowns
        residuals.extend((each - leakage) / _SPREAD_OF_USUAL_CAGES for each in saturable)
        residuals.append((running_leakage - leakage) / _SPREAD_OF_USUAL_CAGES)
        more = starting_resistance - rotor_resistance - math.log(_USUAL_STARTING_CAGE)
        residuals.append(more / _SPREAD_OF_USUAL_CAGES)
        together = -np.logaddexp(-rotor_resistance, -starting_resistance)  # in parallel
    residuals.append((stator_resistance - together) / _SPREAD_OF_THE_USUAL)
    residuals.append((unknowns[..., 4] ** 2 - 1.0) / _SPREAD_OF_THE_USUAL)
    for name, usual in _usual_multiples(plate).items():
        residuals.append((values[name] / usual - 1.0) / _SPREAD_OF_USUAL_MULTIPLES)
    return np.stack(residuals, axis=-1)


def _usual_multiples(plate: Nameplate) -> dict[str, float]:
    """What is taken for the multiples that are not given; the breakdown torque is above the starting torque."""
    starting, breakdown = USUAL_STARTING_TORQUE, USUAL_BREAKDOWN_TORQUE
    if plate.breakdown_torque is not None:
        starting = min(starting, plate.breakdown_torque * USUAL_STARTING_TORQUE / USUAL_BREAKDOWN_TORQUE)
    if plate.starting_torque is not None:
        breakdown = max(breakdown, plate.starting_torque * USUAL_BREAKDOWN_TORQUE / USUAL_STARTING_TORQUE)
    usual = {"breakdown torque": breakdown, "starting current": USUAL_STARTING_CURRENT, "starting torque": starting}
    given = _given(plate)
    return {name: value for name, value in usual.items() if name not in given}


# Unknowns are the logarithms of R1, X, R2 and XM over the rated impedance, then the root of the torque lost over the usual
# one, so that all stay above 0; then, of a second cage, the logarithms of its two values, and that of saturable leakage.


def _within_reason(unknowns: np.ndarray) -> np.ndarray:
    return np.clip(np.delete(unknowns, 4, axis=-1), -_FARTHEST, _FARTHEST)


def _impedances(plate: Nameplate, unknowns: np.ndarray) -> np.ndarray:
    """R1, X, R2 and XM in ohm, of a second cage the leakage of the running cage and the resistance of the starting cage, and
    the leakage that saturates, (..., 4, 6 or 7)."""
    return plate.line_voltage / math.sqrt(3.0) / plate.current * np.exp(_within_reason(unknowns))


def _circuits(plate: Nameplate, unknowns: np.ndarray) -> tuple[_Circuits, np.ndarray]:
    """The circuits of such unknowns (..., 5, 7 or 8), and the torques lost, (...)."""
    impedances = np.moveaxis(_impedances(plate, unknowns)[..., np.newaxis], -2, 0)
    return _circuit(_Circuits, plate, impedances), _loss_torque(plate, unknowns)


def _loss_torque(plate: Nameplate, unknowns: np.ndarray) -> np.ndarray:
    """N m, (...)."""
    return unknowns[..., 4] ** 2 * _usual_loss_torque(plate)


def _circuit(kind: type[Kind], plate: Nameplate, impedances: Iterable[NumberOrArray]) -> Kind:
    stator_resistance, leakage, rotor_resistance, magnetising, *others = impedances
    more = dict(zip(("running_cage_reactance", "starting_cage_resistance", "saturable_reactance"), others, strict=False))
    if "saturable_reactance" in more:
        more["saturation_current"] = plate.current
    return kind(
        stator_resistance,
        leakage,
        rotor_resistance,
        leakage,
        magnetising,
        plate.line_voltage,
        plate.frequency,
        plate.poles,
        **more,
    )


def _usual_loss_torque(plate: Nameplate) -> float:
    return USUAL_LOSSES_OUTSIDE_WINDINGS * plate.losses / float(speeds.angular_speed(plate.speed))


def _guesses(plate: Nameplate) -> np.ndarray:
    """Where to begin, (3, 7), with different leakage and starting cages: R2 takes the voltage at the rated slip, XM the
    reactive current."""
    reactive = np.sqrt(1.0 - plate.power_factor**2)
    return np.array(
        [
            [*np.log([plate.slip, leakage, plate.slip, 1.0 / reactive]), 1.0, *np.log([leakage, starting * plate.slip])]
            for leakage, starting in ((0.035, 5.0), (0.05, 8.0), (0.08, 3.0))
        ]
    )


def _guesses_of_saturation(plate: Nameplate) -> np.ndarray:
    """The same with leakage that saturates, (3, 8): much of it, and little that is constant. The search from what was found
    without any gets stuck."""
    reactive = np.sqrt(1.0 - plate.power_factor**2)
    return np.array(
        [
            [
                *np.log([stator * plate.slip, leakage, plate.slip, 1.2 / reactive]),
                1.1,
                *np.log([0.15, starting * plate.slip, saturable]),
            ]
            for stator, leakage, saturable, starting in ((1.5, 0.015, 0.45, 2.0), (1.5, 0.03, 0.45, 2.0), (1.0, 0.03, 0.7, 1.3))
        ]
    )


def _assumed(plate: Nameplate, fitted: dict[str, np.ndarray]) -> tuple[str, ...]:
    """What is not on the plate, with the value that the circuit has for it."""
    usual = [f"{name} {fitted[name]:.2g} times rated" for name in _usual_multiples(plate)]
    if usual:
        usual.append("stator and rotor resistance of the same order")
        usual.append(f"about {USUAL_LOSSES_OUTSIDE_WINDINGS:.0%} of the losses outside the windings")
    return tuple(usual)
