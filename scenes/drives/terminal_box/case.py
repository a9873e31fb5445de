"""What a joining leads to, worked out once: the run from switching on, what trips and when, how hot the windings get."""

from __future__ import annotations

import math
from dataclasses import dataclass
from functools import cached_property, lru_cache

import numpy as np

from physics.induction.joined_windings import Running
from physics.shaft.shafts import FreeShaft
from physics.terminals import Connected, Network
from scenes.drives.starting.motors import RATED_TORQUE
from scenes.drives.terminal_box.board import Joining
from scenes.drives.terminal_box.motors import Plate, copper_bears, motor_of

INERTIA = 0.15  # kg m2 of rotor and load
BEARINGS = 0.01  # of rated torque: friction
STEP, LONGEST_RUN_UP = 0.004, 12.0  # s
NEAR = 1e-4  # of synchronous speed in a tenth of a second: no longer speeding up
SPEEDS = np.unique(np.concatenate([np.linspace(-1.05, 1.05, 43), *(side * (1 - np.geomspace(0.002, 0.2, 20)) for side in (-1, 1))]))
BY_COPPER_ALONE = 60.0  # s: for longer, what flows off counts
NEVER = math.inf


# Long, for what a joining does to motor, relay and fuses follows from one set of currents.
@dataclass(frozen=True)
class Case:
    """One joining on one supply with one load: `load` N m of friction on the shaft."""

    joining: Joining
    plate: Plate
    supply: float
    frequency: float
    load: float

    @cached_property
    def network(self) -> Network:
        return self.joining.wiring.network(self.supply)

    @cached_property
    def connected(self) -> Connected:
        """At standstill, each winding by itself: what kind of joining it is."""
        circuit = motor_of(self.plate).circuit
        return self.joining.wiring.on(self.supply, self.frequency, circuit.phase_voltage / complex(circuit.at(1.0).stator_current))

    @property
    def short(self) -> bool:
        return any(self.network.shorted)

    @property
    def synchronous(self) -> float:
        """rev/s."""
        return motor_of(self.plate).synchronous_speed(self.frequency)

    @property
    def friction(self) -> float:
        """N m of load and bearings."""
        return self.load + BEARINGS * RATED_TORQUE

    def running(self, speed) -> Running:
        """The motor at `speed` relative to synchronous speed, clockwise positive."""
        return motor_of(self.plate).on(self.network, self.frequency, speed)

    @cached_property
    def table(self) -> Running:
        """At each of `SPEEDS`."""
        return self.running(SPEEDS)

    @cached_property
    def run_up(self) -> tuple[np.ndarray, np.ndarray, np.ndarray]:
        """Times, s, from switching on, speeds, rev/s, and turns, clockwise positive, until it no longer speeds up."""
        return _run_up(self)

    @cached_property
    def settled(self) -> Running:
        """Where the run-up ends."""
        return self.running(self.run_up[1][-1] / self.synchronous)

    @cached_property
    def at_first(self) -> Running:
        """At the moment of switching on."""
        return self.running(0.0)

    @property
    def turns(self) -> str:
        """The shaft's direction seen from the drive end: "clockwise", "counter-clockwise" or "none"."""
        speed = float(self.run_up[1][-1])
        if self.trips == "fuse" and self.short or abs(speed) < 1e-6:
            return "none"
        return "clockwise" if speed > 0 else "counter-clockwise"

    def _on_the_way(self, values: np.ndarray) -> np.ndarray:
        """Values of the table at each moment of the run-up."""
        return np.stack([np.interp(self.run_up[1] / self.synchronous, SPEEDS, column) for column in values.T], axis=-1)

    @cached_property
    def fuse_after(self) -> float:
        """Seconds until a fuse melts."""
        if self.short:
            return 0.0
        fuse = self.plate.fuse(self.supply)
        lines = np.abs(self._on_the_way(np.abs(self.table.line_currents))).max(axis=-1)
        return _reached(
            self.run_up[0], 1 / fuse.melts_after(lines), 1 / float(fuse.melts_after(np.abs(self.settled.line_currents).max())), 1.0
        )

    @cached_property
    def relay_after(self) -> float:
        """Seconds until the overload relay trips."""
        if self.short:
            return NEVER
        relay, heat = self.plate.relay(self.supply), 0.0
        lines = self._on_the_way(np.abs(self.table.line_currents))
        limits = relay.threshold(lines) ** 2
        for time, here, limit in zip(self.run_up[0], lines, limits, strict=True):
            if heat >= limit:
                return float(time)
            heat = float(relay.warmed(heat, here, STEP))
        return float(self.run_up[0][-1]) + relay.trips_after(self.settled.line_currents, heat)

    @cached_property
    def hot_after(self) -> tuple[float, ...]:
        """Seconds until each winding is at its limit if nothing trips, no heat flowing off; inf for one that bears its current."""
        bears = copper_bears(self.plate)
        on_the_way = self._on_the_way(np.abs(self.table.currents)) ** 2
        last = np.abs(self.settled.currents) ** 2
        bearable = (1.1 * self.plate.winding_current) ** 2  # common practice: what insulation has in reserve
        return tuple(_reached(self.run_up[0], on_the_way[:, k], float(last[k]) if last[k] > bearable else 0.0, bears) for k in range(3))

    @property
    def trips(self) -> str:
        """What switches off first: "fuse", "relay" or "" if nothing does."""
        first = min(self.fuse_after, self.relay_after)
        return "" if first == NEVER else "fuse" if first == self.fuse_after else "relay"

    @property
    def off_after(self) -> float:
        """Seconds until something trips, inf if nothing does."""
        return min(self.fuse_after, self.relay_after)


def _run_up(case: Case) -> tuple[np.ndarray, np.ndarray, np.ndarray]:
    """In steps of `STEP`, the torque by the table."""
    shaft = FreeShaft(INERTIA, case.friction)
    to_rad = 2 * math.pi
    knots = to_rad * case.synchronous * SPEEDS
    torques = case.table.torque
    steepness = np.gradient(torques, knots)
    speed, turns = 0.0, 0.0
    times, speeds, angles = [0.0], [0.0], [0.0]
    for step in range(1, round(LONGEST_RUN_UP / STEP)):
        here, slope = float(np.interp(speed, knots, torques)), float(np.interp(speed, knots, steepness))
        after = shaft.through_rest(speed, shaft.speed_after(speed, STEP, here - slope * speed, slope))
        turns += (speed + after) / 2 * STEP / to_rad
        speed = after
        times.append(step * STEP)
        speeds.append(speed / to_rad)
        angles.append(turns)
        if step % 25 == 0 and abs(speeds[-1] - speeds[-26]) <= NEAR * case.synchronous:
            break
    return np.array(times), np.array(speeds), np.array(angles)


def _reached(times: np.ndarray, rates: np.ndarray, last_rate: float, limit: float) -> float:
    """When a sum of `rates` over time is at `limit`: along `times`, then at `last_rate` for good."""
    summed = np.concatenate([[0.0], np.cumsum((rates[1:] + rates[:-1]) / 2 * np.diff(times))])
    if summed[-1] >= limit:
        return float(np.interp(limit, summed, times))
    return float(times[-1] + (limit - summed[-1]) / last_rate) if last_rate > 0 else NEVER


@lru_cache(maxsize=64)
def case_of(joining: Joining, plate: Plate, supply: float, frequency: float, load: float) -> Case:
    """The case, kept: it is worked out part by part as it is asked for."""
    return Case(joining, plate, supply, frequency, load)
