"""Working of an induction motor's equivalent circuit at one slip: impedances, current, power from line to shaft, torque."""

from __future__ import annotations

import math

import numpy as np

from physics import arguments
from physics.induction import EquivalentCircuit, OperatingPoint
from scenes.workings import Ask, Given, Quantity, Step, Topic, Working, exact, factor, figure, known
from scenes.workings_speeds import FREQUENCY, POLES, synchronous_speed_step


def equivalent_circuit(
    voltage, frequency, poles,
    stator_resistance, stator_reactance, rotor_resistance, rotor_reactance, magnetising_reactance, slip,
) -> Working:
    """The exact circuit, Ω a phase in star and referred to the stator, on `voltage`, V between lines, at `slip`, %."""
    voltage = arguments.positive("voltage", voltage)
    motor = EquivalentCircuit(
        stator_resistance, stator_reactance, rotor_resistance, rotor_reactance, magnetising_reactance,
        voltage, frequency, poles,
    )
    percent = arguments.number("slip", slip)
    point = motor.at(percent / 100)
    speed_step, synchronous = synchronous_speed_step(motor.frequency, motor.poles)
    return Working(
        "Equivalent circuit of an induction motor at a slip",
        _given(motor, percent),
        (
            speed_step,
            _rotor_speed(synchronous, point),
            *_impedances(motor, point),
            *_current(motor, point),
            *_powers(motor, point),
            *_torque(motor, point),
        ),
        remark=_extremes(motor),
    )


def _given(motor: EquivalentCircuit, percent: float) -> tuple[Given, ...]:
    return (
        known("U", "voltage between lines", motor.line_voltage, "V"),
        known("f", "frequency of the supply", motor.frequency, "Hz"),
        known("p", "pairs of poles", motor.pole_pairs),
        known("R1", "stator resistance", motor.stator_resistance, "Ω"),
        known("X1", "stator leakage reactance", motor.stator_reactance, "Ω"),
        known("R2", "rotor resistance, referred", motor.rotor_resistance, "Ω"),
        known("X2", "rotor leakage reactance, referred", motor.rotor_reactance, "Ω"),
        known("Xm", "magnetising reactance", motor.magnetising_reactance, "Ω"),
        known("s", "slip", percent, "%"),
    )


def _rotor_speed(synchronous: float, point: OperatingPoint) -> Step:
    numbers = f"{figure(synchronous)} r/min × (1 − {_fraction(point)})"
    return Step("speed of the rotor", "n", "n_s (1 − s)", numbers, (Quantity(60 * float(point.speed), "r/min"),))


def _impedances(motor: EquivalentCircuit, point: OperatingPoint) -> tuple[Step, ...]:
    """Of the rotor branch, of what lies across the gap, of the whole. At no slip the rotor branch is open."""
    whole = complex(motor.phase_voltage / point.stator_current)
    gap = complex(point.gap_voltage / point.stator_current)
    magnetising = f"j{exact(motor.magnetising_reactance)}"
    if point.slip == 0:
        across = Step("impedance at the gap, no current in the rotor", "Zg", "jXm", f"{magnetising} Ω", (Quantity(gap, "Ω"),))
        rotor = ()
    else:
        branch = complex(point.gap_voltage / point.rotor_current)
        rotor = (
            Step(
                "impedance of the rotor branch", "Z2", "R2 / s + jX2",
                f"({exact(motor.rotor_resistance)} / {_fraction(point)} + j{exact(motor.rotor_reactance)}) Ω",
                (Quantity(branch, "Ω"),),
            ),
        )
        shown = factor(figure(branch))
        across = Step(
            "with the magnetising reactance across it", "Zg", "jXm Z2 / (jXm + Z2)",
            f"{magnetising} × {shown if shown.startswith('(') else f'({shown})'} / ({magnetising} + {shown}) Ω", (Quantity(gap, "Ω"),),
        )
    return (
        *rotor,
        across,
        Step(
            "impedance of the whole", "Z", "R1 + jX1 + Zg",
            f"({exact(motor.stator_resistance)} + j{exact(motor.stator_reactance)} + {factor(figure(gap))}) Ω",
            (Quantity(whole, "Ω"),),
        ),
        Step("its size", "|Z|", "√(R² + X²)", f"√({_squared(whole.real)} + {_squared(whole.imag)}) Ω", (Quantity(abs(whole), "Ω"),)),
    )


def _current(motor: EquivalentCircuit, point: OperatingPoint) -> tuple[Step, ...]:
    whole = complex(motor.phase_voltage / point.stator_current)
    current = float(np.abs(point.stator_current))
    return (
        Step("voltage of a phase", "U1", "U / √3", f"{exact(motor.line_voltage)} V / √3", (Quantity(motor.phase_voltage, "V"),)),
        Step("current from the line", "I1", "U1 / |Z|", f"{figure(motor.phase_voltage)} V / {figure(abs(whole))} Ω", (Quantity(current, "A"),)),
        Step(
            "power factor, the current lagging", "cos φ", "R / |Z|", f"{figure(whole.real)} Ω / {figure(abs(whole))} Ω",
            (Quantity(float(point.power_factor)),),
        ),
    )


def _powers(motor: EquivalentCircuit, point: OperatingPoint) -> tuple[Step, ...]:
    """From the line across the gap to the shaft, and what is lost on the way."""
    current = figure(float(np.abs(point.stator_current)))
    across = float(point.airgap_power)
    return (
        Step(
            "power from the line", "P1", "3 U1 I1 cos φ",
            f"3 × {figure(motor.phase_voltage)} V × {current} A × {factor(figure(float(point.power_factor)))}",
            (Quantity(float(point.input_power), "W"),),
        ),
        Step(
            "heat in the stator winding", "Pv1", "3 I1² R1", f"3 × ({current} A)² × {exact(motor.stator_resistance)} Ω",
            (Quantity(float(point.stator_loss), "W"),),
        ),
        Step(
            "power across the gap", "Pg", "P1 − Pv1", f"({figure(float(point.input_power))} − {figure(float(point.stator_loss))}) W",
            (Quantity(across, "W"),),
        ),
        Step(
            "heat in the rotor", "Pv2", "s Pg", f"{_fraction(point)} × {factor(figure(across))} W",
            (Quantity(float(point.rotor_loss), "W"),),
        ),
        Step(
            "power turned into motion", "Pm", "(1 − s) Pg", f"(1 − {_fraction(point)}) × {factor(figure(across))} W",
            (Quantity(float(point.converted_power), "W"),),
        ),
    )


def _torque(motor: EquivalentCircuit, point: OperatingPoint) -> tuple[Step, ...]:
    angular = 2 * math.pi * motor.synchronous_speed
    return (
        Step(
            "angular speed of the field", "ω_s", "2π n_s", f"2π × {figure(motor.synchronous_speed)} rev/s", (Quantity(angular, "rad/s"),)
        ),
        Step(
            "torque in the gap", "T", "Pg / ω_s", f"{figure(float(point.airgap_power))} W / {figure(angular)} rad/s",
            (Quantity(float(point.torque), "N m"),),
        ),
    )


def _extremes(motor: EquivalentCircuit) -> str:
    slip, torque = motor.breakdown()
    standing = motor.at(1.0)
    return (
        f"At standstill it draws {figure(float(np.abs(standing.stator_current)), 3)} A and has {figure(float(standing.torque), 3)} N m; its "
        f"breakdown torque is {figure(torque, 3)} N m at a slip of {figure(100 * slip, 3)} %. Iron and friction are not in the circuit."
    )


def _fraction(point: OperatingPoint) -> str:
    """The slip in a product."""
    return factor(exact(point.slip))


def _squared(value: float) -> str:
    return f"{factor(figure(value))}²"


CIRCUIT = (
    Ask("voltage", "voltage between lines", "V"),
    FREQUENCY,
    POLES,
    Ask("stator_resistance", "R1, of a phase in star", "Ω"),
    Ask("stator_reactance", "X1, leakage of the stator", "Ω"),
    Ask("rotor_resistance", "R2, referred to the stator", "Ω"),
    Ask("rotor_reactance", "X2, leakage of the rotor, referred", "Ω"),
    Ask("magnetising_reactance", "Xm", "Ω"),
)

TOPICS = (
    Topic(
        "equivalent-circuit", "current, power and torque of a motor at a slip",
        (*CIRCUIT, Ask("slip", "slip: 0 synchronous, 100 at standstill", "%")), equivalent_circuit,
    ),
)
