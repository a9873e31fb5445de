"""The equivalent circuit behind a nameplate, and how well it agrees with the plate.

One leakage reactance stands for stator and rotor alike: how it is divided between them makes no difference at the terminals
or the shaft (G. R. Slemon, Modelling of induction machines for electric drives, 1989, memory).

Iron, friction, windage and stray losses, which the circuit leaves out, are taken together as a loss torque at the shaft in
proportion to speed: `loss_torque` at rated speed, none at standstill. So current, power factor and power of the plate can
all be met, and on a shaft it is a viscous `Friction`.

One cage is taken where it meets all six values of plate and catalogue, as that of many a textbook motor does. Real cages
have deep bars or two cages, with more resistance and less leakage at standstill than in running, and only a circuit with
two cages can meet their catalogue values together. Much starting current beside little breakdown torque takes more: leakage
that is less at standstill than at breakdown, with no more resistance. The teeth of such motors saturate with the leakage
flux of the starting current, so part of the leakage may fall with the current: to half at the rated one, for the bridges
over closed slots and the tips of the teeth saturate early.

What even so cannot be met is missed by a little, all values by about as much; `misses` names them, and `sentence` says so
and why (see `limits`).
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache

import numpy as np
from numpy.typing import ArrayLike

from physics.arguments import NumberOrArray
from physics.induction import EquivalentCircuit
from physics.nameplate import limits, search, usual
from physics.nameplate.plate import Nameplate
from physics.shaft.loads import Friction

LARGE_MOTOR = 15e3  # W, from which a catalogue's values are met more closely
ALLOWED_LARGE, ALLOWED_SMALL = 0.02, 0.08
_MET_WITHIN = 0.0005  # by a single cage, or two are taken
_MET_WITHOUT_SATURATION = 0.005  # by two, or part of the leakage saturates


@dataclass(frozen=True)
class Comparison:
    """One value on the plate beside that of the fitted circuit; multiples as multiples of rated."""

    name: str
    plate: float
    fitted: float

    @property
    def difference(self) -> float:
        """Fitted value above the plate's, as a fraction of the plate's."""
        return self.fitted / self.plate - 1.0


@dataclass(frozen=True)
class NameplateFit:
    """The circuit of a motor with its nameplate.

    circuit: the star that draws the same as the motor, whatever its connection; loss_torque: N m at rated speed, see above;
    comparisons: one for each value on the plate; assumed: a phrase for everything that is not on the plate and was taken as
    usual.
    """

    plate: Nameplate
    circuit: EquivalentCircuit
    loss_torque: float
    comparisons: tuple[Comparison, ...]
    assumed: tuple[str, ...]

    @property
    def friction(self) -> Friction:
        """The loss torque, as friction for the motor's `Shaft`."""
        return Friction(viscous=self.loss_torque / self.plate.speed)

    @property
    def worst(self) -> Comparison:
        """The comparison with the largest difference."""
        return max(self.comparisons, key=lambda each: abs(each.difference))

    @property
    def misses(self) -> tuple[Comparison, ...]:
        """Values that the circuit does not meet: by more than 2 % for a motor of 15 kW or more, 8 % for a smaller one."""
        allowed = ALLOWED_LARGE if self.plate.power >= LARGE_MOTOR else ALLOWED_SMALL
        return tuple(each for each in self.comparisons if abs(each.difference) > allowed)

    @property
    def sentence(self) -> str:
        """How well the circuit agrees with the plate, in words; where it does not, why."""
        worst, off = self.worst, self.worst.difference
        if abs(off) < 0.005:
            return "The circuit meets every value of the plate within half a per cent."
        side = "above" if off > 0 else "below"
        told = f"The circuit misses the {worst.name} most: it has {abs(off):.1%} {side} the plate's {worst.plate:.4g}."
        return f"{told} {limits.reason(self.plate)}" if self.misses else told

    @property
    def assumption(self) -> str:
        """Everything that was assumed, in a sentence; empty where the plate settles all."""
        return f"Not on the plate and assumed: {', '.join(self.assumed)}." if self.assumed else ""

    def shaft_torque(self, slip: ArrayLike) -> NumberOrArray:
        """N m at the shaft at `slip`, a number or an array: that of the air gap, less the loss torque."""
        point = self.circuit.at(slip)
        return point.torque - self.loss_torque * point.speed / self.plate.speed


@lru_cache(maxsize=64)
def fit_circuit(plate: Nameplate) -> NameplateFit:
    """The equivalent circuit of the motor with this plate."""
    fit = None
    if len(search.given(plate)) == len(search.VALUES):
        fit = _fit(plate, usual.one_cage(plate), 12)
    if fit is None or abs(fit.worst.difference) > _MET_WITHIN:
        fit = _fit(plate, usual.two_cages(plate), 25)
        if _off(fit) > _MET_WITHOUT_SATURATION:
            fit = min(fit, _fit(plate, usual.saturating(plate), 60), key=_off)
    return fit


def _fit(plate: Nameplate, guesses: np.ndarray, most_rounds: int) -> NameplateFit:
    """The best fit found from the rows of `guesses`."""
    unknowns = search.fitted_unknowns(plate, guesses, most_rounds)
    circuit, lost = search.circuit_of(plate, unknowns), float(search.loss_torque(plate, unknowns))
    slip = circuit.breakdown()[0]
    point = circuit.at(np.array([plate.slip, 1.0, slip]))
    values = search.values_of(plate, point.stator_current, point.torque, lost, slip)
    fitted = dict(zip(search.VALUES, values.tolist(), strict=True))
    comparisons = tuple(Comparison(name, value, fitted[name]) for name, value in search.given(plate).items())
    return NameplateFit(plate, circuit, lost, comparisons, usual.assumed(plate, circuit, fitted))


def _off(fit: NameplateFit) -> float:
    """The largest difference; without end where the breakdown torque comes only when the motor is turned backwards."""
    return np.inf if fit.circuit.breakdown()[0] > 1.0 else abs(fit.worst.difference)
