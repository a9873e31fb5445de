"""The induction motor from moment to moment: its flux linkages, its shaft, and whatever voltage it is given.

Voltages, currents and flux linkages are space vectors (see `space_vectors`), at rest with the stator. Torque, speed and
angle are positive in the sense in which sequence U, V, W turns the field. Rotor values are referred to the stator
winding.

The equations are those of the two-axis machine with linear iron (P. C. Krause, Analysis of Electric Machinery;
P. Vas, Vector Control of AC Machines): v = R1 i1 + dF1/dt, 0 = R2 i2 + dF2/dt - j p w F2, T = 3/2 p Im(conj(F1) i1).

A rotor with two cages, as `induction.EquivalentCircuit` has it, is two such windings: F2 is the flux linkage of the
starting cage, which is what both cages share, and the running cage links besides it what its own current makes between
the two, Fr = F2 + Lr ir. So the stator's current, and with it the torque, follows from F1 and F2 as with one cage.
"""

from __future__ import annotations

import cmath
import math
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from typing import TYPE_CHECKING, TypeAlias

from physics import arguments
from physics.induction.motor_windings import Motor, delta_wound, star_wound
from physics.supply.space_vectors import STAR, Connection, Supply

if TYPE_CHECKING:
    from physics.induction.circuit import EquivalentCircuit

__all__ = [
    "AT_REST",
    "LoadTorque",
    "Motor",
    "MotorState",
    "delta_wound",
    "flux_rates",
    "moments",
    "star_wound",
    "steady_state",
    "step",
]

LoadTorque = Callable[[float], float]
"""Speed in rev/s to the torque in N m that holds the shaft back; negative where the shaft is driven."""

Rates: TypeAlias = tuple[complex, complex, complex, float]
RatesOf: TypeAlias = Callable[[complex, complex, complex, float, complex, complex], Rates]


@dataclass(frozen=True)
class MotorState:
    """All that the motor's future depends on, at one moment."""

    time: float = 0.0  #: s, handed to the supply
    stator_flux: complex = 0j  #: Wb, flux linkage of the stator windings, space vector
    rotor_flux: complex = 0j  #: Wb, flux linkage of the rotor windings, referred, space vector; of two the starting cage's
    speed: float = 0.0  #: rev/s
    angle: float = 0.0  #: mechanical rad that the rotor has turned
    running_flux: complex = 0j  #: Wb, that of the running cage of a rotor with two, likewise; nothing with one


AT_REST = MotorState()


def steady_state(circuit: EquivalentCircuit, slip: float, time: float = 0.0, connection: Connection = STAR) -> MotorState:
    """How a motor wound as this circuit (`star_wound`, or `delta_wound` in delta) stands at `time` s, running steadily
    at `slip` on the circuit's own supply: `ThreePhaseSupply(line_voltage, frequency)`, phase U at its peak at time 0.
    """
    time = arguments.number("time", time)
    point = circuit.at(arguments.number("slip", slip))
    angular_frequency = 2.0 * math.pi * circuit.frequency
    # a flux is the voltage it induces over j w, and an inductance a reactance over w
    peak = math.sqrt(2.0) / angular_frequency * connection.ratio * cmath.exp(1j * angular_frequency * time)
    gap = point.gap_voltage / 1j
    shared = gap - circuit.rotor_reactance * point.rotor_current
    deeper = shared - circuit.running_cage_reactance * point.running_cage_current
    return MotorState(
        time=time,
        stator_flux=complex(peak * (gap + circuit.stator_leakage(point.stator_current) * point.stator_current)),
        rotor_flux=complex(peak * shared),
        speed=float(point.speed),
        angle=2.0 * math.pi * float(point.speed) * time,
        running_flux=complex(peak * deeper) if circuit.two_cages else 0j,
    )


def step(
    motor: Motor,
    state: MotorState,
    seconds: float,
    supply: Supply,
    load_torque: LoadTorque,
    connection: Connection = STAR,
) -> MotorState:
    """The state `seconds` later. Motor, supply, load and connection may be others at every call: flux linkages stay.

    Where the connection has lost phases, their current is gone at once, as if switched without an arc; the closed rotor
    windings keep their flux linkage.
    """
    seconds = arguments.not_negative("seconds", seconds)
    *_, moment = moments(motor, state, seconds, 1, supply, load_torque, connection)
    return MotorState(*moment)


def moments(
    motor: Motor,
    state: MotorState,
    interval: float,
    count: int,
    supply: Supply,
    load_torque: LoadTorque,
    connection: Connection,
) -> Iterator[tuple[float, complex, complex, float, float, complex]]:
    """`state` as the connection leaves it, and then `count` more, each `interval` s after the one before.

    What comes are bare tuples of the fields of MotorState: making the objects would take as long as the arithmetic.

    Runge-Kutta of fourth order in steps no longer than the motor's. Each step counts in a frame that turns with the
    rotor, where near synchronous speed all but the starting transient stands nearly still: a settled motor comes out
    as by the circuit, however long the steps. With a phase lost the current has a direction fixed in the stator; the
    frame stands still then, and the steps are half as long.
    """
    if not callable(supply):
        raise ValueError("supply must be a function of the time that gives the space vector of the voltages")
    if not callable(load_torque):
        raise ValueError("load_torque must be a function of the speed that gives N m")
    rates = _rates(motor, load_torque, connection)
    frame_per_speed, longest_step = 2j * math.pi * motor.pole_pairs, motor.longest_step
    if connection.lines_lost:
        frame_per_speed, longest_step = 0j, 0.5 * longest_step
    substeps = max(1, math.ceil(interval / longest_step * (1.0 - 1e-9)))
    whole = interval / substeps
    half, sixth = whole / 2.0, whole / 6.0
    ratio = connection.ratio
    stator, rotor = _switched(motor, state, connection)
    speed, angle, running = state.speed, state.angle, complex(state.running_flux)
    now = ratio * supply(state.time)
    yield state.time, stator, rotor, speed, angle, running
    for taken in range(1, count * substeps + 1):
        time = state.time + taken * whole
        frame = frame_per_speed * speed
        turned = cmath.exp(frame * half)
        middle = ratio * supply(time - half) / turned
        turned *= turned
        following = ratio * supply(time)
        s1, r1, d1, n1 = rates(stator, rotor, running, speed, now, frame)
        s2, r2, d2, n2 = rates(stator + half * s1, rotor + half * r1, running + half * d1, speed + half * n1, middle, frame)
        s3, r3, d3, n3 = rates(stator + half * s2, rotor + half * r2, running + half * d2, speed + half * n2, middle, frame)
        s4, r4, d4, n4 = rates(stator + whole * s3, rotor + whole * r3, running + whole * d3, speed + whole * n3, following / turned, frame)
        stator = (stator + sixth * (s1 + 2.0 * (s2 + s3) + s4)) * turned
        rotor = (rotor + sixth * (r1 + 2.0 * (r2 + r3) + r4)) * turned
        running = (running + sixth * (d1 + 2.0 * (d2 + d3) + d4)) * turned
        angle += 2.0 * math.pi * whole * (speed + sixth * (n1 + n2 + n3))
        speed += sixth * (n1 + 2.0 * (n2 + n3) + n4)
        now = following
        if taken % substeps == 0:
            if not (cmath.isfinite(stator) and math.isfinite(speed)):
                raise ValueError(f"supply and load_torque must give finite numbers, but did not up to {time:g} s")
            yield time, stator, rotor, speed, angle, running


def flux_rates(motor: Motor, state: MotorState, supply: Supply, connection: Connection = STAR) -> tuple[complex, complex]:
    """What the stator and the rotor flux change by at this moment, V, seen from the stator."""
    stator, rotor = _switched(motor, state, connection)
    voltage = connection.ratio * supply(state.time)
    rates = _rates(motor, lambda speed: 0.0, connection)
    return rates(stator, rotor, complex(state.running_flux), state.speed, voltage, 0j)[:2]


def _switched(motor: Motor, state: MotorState, connection: Connection) -> tuple[complex, complex]:
    """Stator and rotor flux once no current flows that the lines do not let through."""
    stator, rotor = complex(state.stator_flux), complex(state.rotor_flux)
    if not connection.lines_lost:
        return stator, rotor
    a, b, _ = motor.inverse_inductances
    along = connection.direction or 0j
    currentless = b / a * rotor
    return currentless + along * (along.conjugate() * (stator - currentless)).real, rotor


def _rates(motor: Motor, load_torque: LoadTorque, connection: Connection) -> RatesOf:
    """Function (stator flux, rotor flux, running cage's flux, speed, winding voltage, frame) to the rates of change of the
    first four, as the lines allow.

    `frame` is j times the speed, electrical rad/s, of the axes against which the flux vectors and the voltage are
    given; with a phase lost it must be 0.
    """
    # dF1/dt = v - R1 (a F1 - b F2) and dF2/dt = j p w F2 - R2 (c F2 - b F1), the products taken out of the loop
    a, b, c = motor.inverse_inductances
    stator_decay, stator_drag = motor.stator_resistance * a, motor.stator_resistance * b
    shared = motor.starting_cage_resistance if motor.two_cages else motor.rotor_resistance
    rotor_decay, rotor_drag = shared * c, shared * b
    electrical = 2j * math.pi * motor.pole_pairs
    torque_per_flux = 1.5 * motor.pole_pairs * b
    per_inertia = 1.0 / (2.0 * math.pi * motor.inertia)

    def with_constant_leakage(stator: complex, rotor: complex, running: complex, speed: float, voltage: complex, frame: complex) -> Rates:
        stator_rate = voltage - (stator_decay + frame) * stator + stator_drag * rotor
        rotor_rate = (electrical * speed - frame - rotor_decay) * rotor + rotor_drag * stator
        torque = torque_per_flux * (stator.imag * rotor.real - stator.real * rotor.imag)
        return stator_rate, rotor_rate, 0j, (torque - load_torque(speed)) * per_inertia

    one_cage = _of_one_cage_saturating(motor, shared, load_torque) if motor.saturates else with_constant_leakage
    all_lines = _of_two_cages(motor, one_cage) if motor.two_cages else one_cage
    along = connection.direction or 0j
    from_along = along.conjugate()

    def lines_lost(stator: complex, rotor: complex, running: complex, speed: float, voltage: complex, frame: complex) -> Rates:
        # Along the direction in which current can still flow the voltage is given. Elsewhere the current stays nothing:
        # a F1 = b F2, the stator flux is what the rotor sends over, and the terminals take the voltage this induces.
        given, rotor_rate, running_rate, acceleration = all_lines(stator, rotor, running, speed, voltage, frame)
        stator_rate = b / a * rotor_rate
        through = stator_rate + along * (from_along * (given - stator_rate)).real
        return through, rotor_rate, running_rate, acceleration

    return lines_lost if connection.lines_lost else all_lines


def _of_one_cage_saturating(motor: Motor, rotor_resistance: float, load_torque: LoadTorque) -> RatesOf:
    """The same of a motor whose leakage saturates: currents first, for they are no fixed multiples of the flux linkages."""
    over, per_rotor_inductance = motor.sent_over, 1.0 / motor.rotor_inductance
    stator_resistance, per_linkage = motor.stator_resistance, motor.stator_current_per_linkage
    electrical = 2j * math.pi * motor.pole_pairs
    torque_per_flux = 1.5 * motor.pole_pairs * over
    per_inertia = 1.0 / (2.0 * math.pi * motor.inertia)

    def one_cage(stator: complex, rotor: complex, running: complex, speed: float, voltage: complex, frame: complex) -> Rates:
        linkage = stator - over * rotor
        current = per_linkage(abs(linkage)) * linkage
        stator_rate = voltage - frame * stator - stator_resistance * current
        rotor_current = per_rotor_inductance * rotor - over * current
        rotor_rate = (electrical * speed - frame) * rotor - rotor_resistance * rotor_current
        torque = torque_per_flux * (current.imag * rotor.real - current.real * rotor.imag)
        return stator_rate, rotor_rate, 0j, (torque - load_torque(speed)) * per_inertia

    return one_cage


def _of_two_cages(motor: Motor, one_cage: RatesOf) -> RatesOf:
    """The rates, where `one_cage` tells them as if the starting cage carried all of the rotor's current.

    Of that the running cage takes ir = (Fr - F2) / Lr: dF2/dt is as much more as the starting cage drops less by it, and
    dFr/dt = j p w Fr - R2 ir.
    """
    starting_drop = motor.starting_cage_resistance / motor.running_cage_inductance
    running_drop = motor.rotor_resistance / motor.running_cage_inductance
    electrical = 2j * math.pi * motor.pole_pairs

    def two_cages(stator: complex, rotor: complex, running: complex, speed: float, voltage: complex, frame: complex) -> Rates:
        stator_rate, rotor_rate, _, acceleration = one_cage(stator, rotor, running, speed, voltage, frame)
        between = running - rotor
        running_rate = (electrical * speed - frame) * running - running_drop * between
        return stator_rate, rotor_rate + starting_drop * between, running_rate, acceleration

    return two_cages
