"""The equivalent circuit behind a nameplate, and how well it tells what stands there.

Sought are R1, R2, XM, one leakage reactance for stator and rotor alike, and the torque lost. That loses nothing:
current and torque depend on R1, X1 + XM, XM^2 / R2 and (X2 + XM) / R2 alone, so how the leakage is divided between
stator and rotor cannot be seen from outside (G. R. Slemon, Modelling of induction machines for electric drives, 1989,
memory).

What the circuit does not have, iron, friction, windage and stray losses, is taken together as a torque lost at the
shaft in proportion to speed: `loss_torque` at rated speed, none at standstill. So current, power factor and power of
the plate can all be met, and on a shaft it is a viscous `Friction`.

A plate alone says three things (current, power factor, torque, all at the rated slip) about five unknowns. What it
leaves open is filled by what motors usually have (common practice, no source): stator and rotor resistance alike, three
tenths of the losses outside the windings, and, where not given, a breakdown torque of 2.8 times and a starting current
of 6.5 times the rated ones. `NameplateFit.assumed` says so.

The circuit has one rotor resistance at all slips and one leakage at all currents. A cage with deep bars or two cages
has more resistance at standstill, and leakage paths that saturate leave less leakage there: the catalogue values of
most real motors no such circuit can have together. The rated point is then met all the same, as many of the others as
can be, and the comparisons show what that leaves off, most often the starting torque.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator
from dataclasses import dataclass

import numpy as np

from physics import speeds
from physics.induction import EquivalentCircuit
from physics.nameplate.least_squares import least_squares
from physics.nameplate.plate import Nameplate
from physics.shaft.loads import Friction

USUAL_BREAKDOWN_TORQUE = 2.8
USUAL_STARTING_CURRENT = 6.5
USUAL_LOSSES_OUTSIDE_WINDINGS = 0.3

# By what fraction each may be missed before it counts: the rated point is met before all. What is usual breaks ties.
_CLOSENESS = {
    "current": 0.001,
    "power factor": 0.001,
    "torque": 0.001,
    "breakdown torque": 0.003,
    "starting current": 0.003,
    "starting torque": 0.009,
}
_RATED_POINT = ("current", "power factor", "torque")
_SPREAD_OF_THE_USUAL = 0.5
_SPREAD_OF_USUAL_MULTIPLES = 0.2
_FARTHEST = 12.0  # logarithm of an impedance over the rated one: a search that runs away is still a circuit


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

    def shaft_torque(self, slip):
        """N m that the shaft gives at `slip`, a number or an array: of the air gap, less the torque lost."""
        point = self.circuit.at(slip)
        return point.torque - self.loss_torque * point.speed / self.plate.speed


class _Circuits(EquivalentCircuit):
    """Many of one supply, with resistances and reactances of shape (..., 1). They are made here, and so not checked."""

    def __post_init__(self):
        pass


def fit_circuit(plate: Nameplate) -> NameplateFit:
    """The equivalent circuit of the motor with this plate."""
    unknowns = min(_attempts(plate), key=lambda found: float(np.sum(_residuals(plate, found, np.arcsinh) ** 2)))
    circuit = _circuit(EquivalentCircuit, plate, _impedances(plate, unknowns).tolist())
    fitted = _values(plate, unknowns)
    comparisons = tuple(Comparison(name, value, float(fitted[name])) for name, value in _given(plate).items())
    return NameplateFit(plate, circuit, float(_loss_torque(plate, unknowns)), comparisons, _assumed(plate))


def _attempts(plate: Nameplate) -> Iterator[np.ndarray]:
    """Unknowns that fit best in their surroundings.

    Large misses are forgiven (arsinh grows as a logarithm), so that one value that cannot be met does not spoil the
    others. From far off the way is surer with every miss counted in full; so it is tried from there as well.
    """
    for guess in _guesses(plate):
        strict = least_squares(lambda tried: _residuals(plate, tried, np.positive), guess)
        for beginning in (guess, strict):
            yield least_squares(lambda tried: _residuals(plate, tried, np.arcsinh), beginning)


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


def _values(plate: Nameplate, unknowns: np.ndarray) -> dict[str, np.ndarray]:
    """The same of the circuits of such unknowns (..., 5), each of shape (...)."""
    circuits = _circuit(_Circuits, plate, np.moveaxis(_impedances(plate, unknowns)[..., np.newaxis], -2, 0))
    loss_torque = _loss_torque(plate, unknowns)
    point = circuits.at(np.array([plate.slip, 1.0]))
    current = np.abs(point.stator_current)
    breakdown_slip, breakdown = (value[..., 0] for value in circuits.breakdown())
    breakdown = breakdown - loss_torque * speeds.speed_at_slip(circuits.synchronous_speed, breakdown_slip) / plate.speed
    return {
        "current": current[..., 0],
        "power factor": point.power_factor[..., 0],
        "torque": point.torque[..., 0] - loss_torque,
        "breakdown torque": breakdown / plate.torque,
        "starting current": current[..., 1] / plate.current,
        "starting torque": point.torque[..., 1] / plate.torque,
    }


def _residuals(plate: Nameplate, unknowns: np.ndarray, counted: Callable) -> np.ndarray:
    """Misses of unknowns (..., 5) over what is allowed, (..., m); those beyond the rated point through `counted`."""
    values = _values(plate, unknowns)
    residuals = []
    for name, value in _given(plate).items():
        miss = (values[name] / value - 1.0) / _CLOSENESS[name]
        residuals.append(miss if name in _RATED_POINT else counted(miss))
    stator_resistance, _, rotor_resistance, _ = np.moveaxis(_within_reason(unknowns), -1, 0)
    residuals.append((stator_resistance - rotor_resistance) / _SPREAD_OF_THE_USUAL)
    residuals.append((unknowns[..., 4] ** 2 - 1.0) / _SPREAD_OF_THE_USUAL)
    if plate.breakdown_torque is None:
        residuals.append((values["breakdown torque"] / USUAL_BREAKDOWN_TORQUE - 1.0) / _SPREAD_OF_USUAL_MULTIPLES)
    if plate.starting_current is None:
        residuals.append((values["starting current"] / USUAL_STARTING_CURRENT - 1.0) / _SPREAD_OF_USUAL_MULTIPLES)
    return np.stack(residuals, axis=-1)


# Unknowns are the logarithms of R1, X, R2 and XM over the rated impedance, and the root of the torque lost over the usual
# one, so that all stay above 0.


def _within_reason(unknowns: np.ndarray) -> np.ndarray:
    return np.clip(unknowns[..., :4], -_FARTHEST, _FARTHEST)


def _impedances(plate: Nameplate, unknowns: np.ndarray) -> np.ndarray:
    """R1, X, R2 and XM in ohm, (..., 4)."""
    return plate.line_voltage / math.sqrt(3.0) / plate.current * np.exp(_within_reason(unknowns))


def _loss_torque(plate: Nameplate, unknowns: np.ndarray) -> np.ndarray:
    """N m, (...)."""
    return unknowns[..., 4] ** 2 * _usual_loss_torque(plate)


def _circuit(kind: type[EquivalentCircuit], plate: Nameplate, impedances) -> EquivalentCircuit:
    stator_resistance, leakage, rotor_resistance, magnetising = impedances
    return kind(
        stator_resistance=stator_resistance,
        stator_reactance=leakage,
        rotor_resistance=rotor_resistance,
        rotor_reactance=leakage,
        magnetising_reactance=magnetising,
        line_voltage=plate.line_voltage,
        frequency=plate.frequency,
        poles=plate.poles,
    )


def _usual_loss_torque(plate: Nameplate) -> float:
    return USUAL_LOSSES_OUTSIDE_WINDINGS * plate.losses / float(speeds.angular_speed(plate.speed))


def _guesses(plate: Nameplate):
    """Where to begin, with less and more leakage: R2 takes the voltage at the rated slip, XM the reactive current."""
    reactive = np.sqrt(1.0 - plate.power_factor**2)
    for leakage in (0.08, 0.2):
        yield np.array([*np.log([plate.slip, leakage, plate.slip, 1.0 / reactive]), 1.0])


def _assumed(plate: Nameplate) -> tuple[str, ...]:
    usual = []
    if plate.breakdown_torque is None:
        usual.append(f"breakdown torque about {USUAL_BREAKDOWN_TORQUE:g} times rated")
    if plate.starting_current is None:
        usual.append(f"starting current about {USUAL_STARTING_CURRENT:g} times rated")
    if len(_given(plate)) < 5:
        usual.append("stator and rotor resistance about alike")
        usual.append(f"about {USUAL_LOSSES_OUTSIDE_WINDINGS:.0%} of the losses outside the windings")
    return tuple(usual)
