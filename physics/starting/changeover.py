"""The change-over of a star-delta starter with six leads: what is left of the rotor's field while all is open, and the peak that follows.

In star and in delta each winding has a voltage of its own, by how the leads join the six ends (`physics.terminals`). While both
contactors are open no winding carries current; the closed rotor keeps its flux, which decays, turns on with the rotor, slower than the
supply, and induces a residual voltage in the windings. When delta closes, what drives the current is the difference between the voltage
that delta puts on each winding and that residual voltage. The two ways round the delta put on voltages 60 degrees apart (U1-W2: 30 degrees
ahead of star, U1-V2: 30 behind, where U, V, W follow L1, L2, L3), so their differences, and their peaks, are not the same (residual
voltage and open transition: any textbook of induction machines, memory; terms of IEC 60947-4-1, memory).

Peaks are those of the space vector's length: what the unluckiest phase carries if the first contactor closes at the unluckiest instant.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from functools import cached_property, lru_cache

import numpy as np

from physics import arguments
from physics.induction.run_up import run
from physics.induction.transient import AT_REST, LoadTorque, Motor, MotorState, flux_rates, step
from physics.starting.transients import PERIODS_AFTER_SWITCHING
from physics.supply.space_vectors import PHASES, Connection, Supply, space_vector, supply_vector
from physics.supply.supplies import symmetrical_components
from physics.terminals import Wiring

OPENED = Connection("star", PHASES)
"""Of windings that no line reaches, or that are joined to nothing at their other ends."""

_EVEN = 1e-9  # share of a sequence that is rounding
_SETTLED = 1e-7  # share by which flux and speed may still change in `_PERIODS`
_PERIODS = 10
_MOMENTS = 100  # recorded in a period


@dataclass(frozen=True)
class Fed:
    """Three like windings on a symmetrical supply: `voltages`, complex V r.m.s. of U, V, W at frequency, Hz, and `into`, (3, 3): the
    currents of L1, L2, L3 over those of the windings."""

    voltages: tuple[complex, complex, complex]
    into: tuple[tuple[float, ...], ...]
    frequency: float

    @classmethod
    def by(cls, wiring: Wiring, line_voltage: float, frequency: float) -> Fed:
        """As `wiring` joins them. `ValueError` unless it is a star or a delta in which the windings make an evenly rotating field."""
        on = wiring.on(line_voltage, frequency, 1.0)
        parts = sorted(np.abs(symmetrical_components(on.winding_voltages)))
        if on.kind not in ("star", "delta") or parts[1] > _EVEN * parts[2]:
            raise ValueError("wiring must be a whole star or delta whose windings have even voltages, each 120 degrees from the next")
        into = wiring.network(line_voltage).into
        first, second, third = on.winding_voltages.tolist()
        return cls((first, second, third), tuple(map(tuple, into.tolist())), frequency)

    @cached_property
    def supply(self) -> Supply:
        """Space vector of the winding voltages at each time, L1 at its peak at time 0."""
        return supply_vector(self.voltages, self.frequency)

    def line_current(self, winding_currents: np.ndarray) -> np.ndarray:
        """Space vector of the line currents, A peak, (...), for momentary currents of U, V, W, (..., 3)."""
        return np.asarray(space_vector(winding_currents @ np.array(self.into).T))


@dataclass(frozen=True)
class Peak:
    """After a contactor has closed. current: A in a line, momentary; torque: N m, the largest either way; difference: V r.m.s. across each
    winding at that moment between what is put on and what is left."""

    current: float
    torque: float
    difference: float


@dataclass(frozen=True)
class StarDeltaStart:
    """A start from rest: `timer` s in star, `pause` s with star and delta both open, then delta.

    windings: the motor with all that is on its shaft, each winding by itself; star: what feeds it; load_torque: N m that hold
    it back, of the speed in rev/s.
    """

    windings: Motor
    star: Fed
    load_torque: LoadTorque
    timer: float
    pause: float

    def __post_init__(self) -> None:
        arguments.positive("timer", self.timer)
        arguments.positive("pause", self.pause)

    @cached_property
    def opening(self) -> MotorState:
        """At the end of star, no contact yet opened."""
        return _run_up(self.windings, self.star.voltages, self.star.frequency, self.load_torque, self.timer)

    @cached_property
    def closing(self) -> MotorState:
        """At the end of the pause; its time is as if delta closed `timer` and `pause` after star."""
        state = self.opening
        off = step(self.windings, state, self.pause, _none, self.load_torque, OPENED)
        return MotorState(self.timer + self.pause, off.stator_flux, off.rotor_flux, off.speed, off.angle, off.running_flux)

    @property
    def residual(self) -> complex:
        """Space vector, V peak, of what the rotor's field induces in the windings at the end of the pause."""
        return residual_voltage(self.windings, self.closing)

    def after(self, delta: Fed) -> Peak:
        """When delta closes."""
        return self._peak(self.closing, delta, delta.supply(self.closing.time) - self.residual)

    def direct(self, delta: Fed) -> Peak:
        """For comparison: delta at once, from rest."""
        return self._peak(AT_REST, delta, delta.supply(0.0))

    def _peak(self, state: MotorState, fed: Fed, difference: complex) -> Peak:
        period = 1.0 / fed.frequency
        history = run(self.windings, state, PERIODS_AFTER_SWITCHING * period, period / _MOMENTS, fed.supply, self.load_torque)
        return Peak(
            float(np.abs(fed.line_current(history.phase_currents)).max()),
            float(np.abs(history.torque).max()),
            abs(difference) / math.sqrt(2.0),
        )


@lru_cache(maxsize=32)
def _run_up(windings: Motor, voltages: tuple[complex, ...], frequency: float, load_torque: LoadTorque, seconds: float) -> MotorState:
    """From rest; from where nothing changes any more whole periods are left out. Kept, for neither the pause that follows nor the way
    round the delta makes another of it."""
    supply, period = supply_vector(voltages, frequency), 1.0 / frequency
    state, left = AT_REST, seconds
    while left > _PERIODS * period:
        after = step(windings, state, _PERIODS * period, supply, load_torque)
        left -= _PERIODS * period
        changed = abs(after.stator_flux - state.stator_flux) + abs(after.speed - state.speed) * abs(after.stator_flux) * period
        state = after
        if changed < _SETTLED * abs(after.stator_flux):
            left = math.fmod(left, period)
    return step(windings, state, left, supply, load_torque)


def residual_voltage(windings: Motor, state: MotorState) -> complex:
    """Space vector, V peak, of what is induced in windings that carry no current, by the rotor's field."""
    return flux_rates(windings, state, _none, OPENED)[0]


def _none(time: float) -> complex:
    return 0j
