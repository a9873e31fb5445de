"""Working of an induction motor's equivalent circuit at one slip: impedances, current, power flow, torque."""

from __future__ import annotations

import numpy as np

from physics import arguments, speeds
from physics.induction import EquivalentCircuit, OperatingPoint
from scenes.workings.speeds import FREQUENCY, POLES, synchronous_speed_step
from scenes.workings.writing import Ask, Given, Step, Topic, Working, carried, exact, factor, figure, known, step


def equivalent_circuit(
    voltage,
    frequency,
    poles,
    stator_resistance,
    stator_reactance,
    rotor_resistance,
    rotor_reactance,
    magnetising_reactance,
    slip,
    **more,
) -> Working:
    """The exact circuit, Ω per phase in star, referred to the stator, at `voltage`, V between lines, and `slip`, %.

    more: `starting_cage_resistance` and `running_cage_reactance` of a double-cage rotor, both or neither; `saturable_reactance`
    and `saturation_current`, A, of leakage that saturates, both or neither."""
    voltage = arguments.positive("voltage", voltage)
    motor = EquivalentCircuit(
        stator_resistance,
        stator_reactance,
        rotor_resistance,
        rotor_reactance,
        magnetising_reactance,
        voltage,
        frequency,
        poles,
        **more,
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
        known("poles", "number of poles", 2 * motor.pole_pairs),
        known("R1", "stator resistance", motor.stator_resistance, "Ω"),
        known("X1", "stator leakage reactance", motor.stator_reactance, "Ω"),
        known("R2", "rotor resistance, referred", motor.rotor_resistance, "Ω"),
        known("X2", "rotor leakage reactance, referred", motor.rotor_reactance, "Ω"),
        known("Xm", "magnetising reactance", motor.magnetising_reactance, "Ω"),
        *_second_cage(motor),
        *_saturation(motor),
        known("s", "slip", percent, "%"),
    )


def _second_cage(motor: EquivalentCircuit) -> tuple[Given, ...]:
    if not motor.two_cages:
        return ()
    return (
        known("Rs", "resistance of the starting cage, referred", motor.starting_cage_resistance, "Ω"),
        known("Xr", "leakage reactance of the running cage alone, referred", motor.running_cage_reactance, "Ω"),
    )


def _saturation(motor: EquivalentCircuit) -> tuple[Given, ...]:
    if not motor.saturates:
        return ()
    return (
        known("X_sat", "leakage reactance on top of X1 that saturates", motor.saturable_reactance, "Ω"),
        known("I_sat", "line current at which half of it is left", motor.saturation_current, "A"),
    )


def _rotor_speed(synchronous: float, point: OperatingPoint) -> Step:
    numbers = f"{carried(synchronous)} r/min × (1 − {_fraction(point)})"
    return step("speed of the rotor", "n", "n_s (1 − s)", numbers, 60 * float(point.speed), "r/min")


def _impedances(motor: EquivalentCircuit, point: OperatingPoint) -> tuple[Step, ...]:
    """Impedances of the rotor branch, at the gap, and in total. With no slip the rotor branch is open."""
    whole = complex(motor.phase_voltage / point.stator_current)
    gap = complex(point.gap_voltage / point.stator_current)
    magnetising = f"j{exact(motor.magnetising_reactance)}"
    rotor: tuple[Step, ...] = ()
    if point.slip == 0:
        across = step("impedance at the gap, no current in the rotor", "Zg", "jXm", f"{magnetising} Ω", gap, "Ω")
    else:
        rotor = _rotor_branch(motor, point)
        branch = complex(point.gap_voltage / point.rotor_current)
        across = step(
            "with the magnetising reactance across it",
            "Zg",
            "jXm Z2 / (jXm + Z2)",
            f"{magnetising} × ({carried(branch)}) / ({magnetising} + {factor(carried(branch))}) Ω",
            gap,
            "Ω",
        )
    leakage, symbol = exact(motor.stator_reactance), "X1"
    saturated: tuple[Step, ...] = ()
    if motor.saturates:
        saturated = (_saturated_leakage(motor, float(abs(point.stator_current))),)
        leakage, symbol = carried(float(motor.stator_leakage(point.stator_current))), "X1′"
    return (
        *rotor,
        across,
        *saturated,
        step(
            "total impedance",
            "Z",
            f"R1 + j{symbol} + Zg",
            f"({exact(motor.stator_resistance)} + j{leakage} + {factor(carried(gap))}) Ω",
            whole,
            "Ω",
        ),
        step("its magnitude", "|Z|", "√(R² + X²)", f"√({_squared(whole.real)} + {_squared(whole.imag)}) Ω", abs(whole), "Ω"),
    )


def _saturated_leakage(motor: EquivalentCircuit, current: float) -> Step:
    """X1 with what is left of the leakage that saturates: at the current that it then lets through."""
    left = f"{exact(motor.saturable_reactance)} / (1 + {carried(current)} A / {exact(motor.saturation_current)} A)"
    return step(
        "stator leakage at the line current found below, by trial",
        "X1′",
        "X1 + X_sat / (1 + I1 / I_sat)",
        f"({exact(motor.stator_reactance)} + {left}) Ω",
        float(motor.stator_leakage(current)),
        "Ω",
    )


def _rotor_branch(motor: EquivalentCircuit, point: OperatingPoint) -> tuple[Step, ...]:
    """R2 / s + jX2; for two cages, each on its own, then the two in parallel behind their shared leakage."""
    branch = complex(point.gap_voltage / point.rotor_current)
    resistance, fraction = exact(motor.rotor_resistance), _fraction(point)
    if not motor.two_cages:
        numbers = f"({resistance} / {fraction} + j{exact(motor.rotor_reactance)}) Ω"
        return (step("impedance of the rotor branch", "Z2", "R2 / s + jX2", numbers, branch, "Ω"),)
    slip = float(point.slip)
    running = complex(motor.rotor_resistance / slip, motor.running_cage_reactance)
    starting = motor.starting_cage_resistance / slip
    inner, outer = factor(carried(running)), factor(carried(starting))
    return (
        step(
            "impedance of the running cage",
            "Zr",
            "R2 / s + jXr",
            f"({resistance} / {fraction} + j{exact(motor.running_cage_reactance)}) Ω",
            running,
            "Ω",
        ),
        step(
            "resistance of the starting cage over the slip",
            "Zs",
            "Rs / s",
            f"{exact(motor.starting_cage_resistance)} Ω / {fraction}",
            starting,
            "Ω",
        ),
        step(
            "impedance of the rotor branch, the cages in parallel",
            "Z2",
            "jX2 + Zr Zs / (Zr + Zs)",
            f"(j{exact(motor.rotor_reactance)} + ({carried(running)}) × {outer} / ({inner} + {outer})) Ω",
            branch,
            "Ω",
        ),
    )


def _current(motor: EquivalentCircuit, point: OperatingPoint) -> tuple[Step, ...]:
    whole = complex(motor.phase_voltage / point.stator_current)
    current = float(np.abs(point.stator_current))
    return (
        step("phase voltage", "U1", "U / √3", f"{exact(motor.line_voltage)} V / √3", motor.phase_voltage, "V"),
        step(
            "line current",
            "I1",
            "U1 / |Z|",
            f"{carried(motor.phase_voltage)} V / {carried(abs(whole))} Ω",
            current,
            "A",
        ),
        step(
            "power factor, lagging",
            "cos φ",
            "R / |Z|",
            f"{carried(whole.real)} Ω / {carried(abs(whole))} Ω",
            float(point.power_factor),
        ),
    )


def _powers(motor: EquivalentCircuit, point: OperatingPoint) -> tuple[Step, ...]:
    """The power flow: from the line across the gap to the shaft, with the losses on the way."""
    across = float(point.airgap_power)
    digits = 6 if abs(point.input_power) < 1e4 else 8  # from there on a result has more than four figures
    current = carried(float(np.abs(point.stator_current)), digits)
    return (
        step(
            "input power",
            "P1",
            "3 U1 I1 cos φ",
            f"3 × {carried(motor.phase_voltage, digits)} V × {current} A × {factor(carried(float(point.power_factor), digits))}",
            float(point.input_power),
            "W",
        ),
        step(
            "copper loss in the stator",
            "Pv1",
            "3 I1² R1",
            f"3 × ({current} A)² × {exact(motor.stator_resistance)} Ω",
            float(point.stator_loss),
            "W",
        ),
        step(
            "power across the gap",
            "Pg",
            "P1 − Pv1",
            f"({carried(float(point.input_power), 8)} − {carried(float(point.stator_loss), 8)}) W",
            across,
            "W",
        ),
        step(
            "copper loss in the rotor",
            "Pv2",
            "s Pg",
            f"{_fraction(point)} × {factor(carried(across, digits))} W",
            float(point.rotor_loss),
            "W",
        ),
        step(
            "mechanical power",
            "Pm",
            "(1 − s) Pg",
            f"(1 − {_fraction(point)}) × {factor(carried(across, digits))} W",
            float(point.converted_power),
            "W",
        ),
    )


def _torque(motor: EquivalentCircuit, point: OperatingPoint) -> tuple[Step, ...]:
    line, angular = angular_speed_step(motor)
    return (
        line,
        step(
            "air-gap torque",
            "T",
            "Pg / ω_s",
            f"{carried(float(point.airgap_power))} W / {carried(angular)} rad/s",
            float(point.torque),
            "N m",
        ),
    )


def angular_speed_step(motor: EquivalentCircuit) -> tuple[Step, float]:
    """The working of the field's angular speed, and its value in rad/s."""
    angular = float(speeds.angular_speed(motor.synchronous_speed))
    numbers = f"2π × {carried(60 * motor.synchronous_speed)} r/min / 60"
    return step("angular speed of the field", "ω_s", "2π n_s / 60", numbers, angular, "rad/s"), angular


def _extremes(motor: EquivalentCircuit) -> str:
    standing, (slip, torque) = motor.at(1.0), motor.breakdown()
    current, percent = float(np.abs(standing.stator_current)), 100 * slip
    return (
        f"At standstill it draws {figure(current, 3)} A and gives {figure(float(standing.torque), 3)} N m; its breakdown "
        f"torque is {figure(torque, 3)} N m at a slip of {figure(percent, 3)} %. "
        "Iron and friction are not in the circuit."
    )


def _fraction(point: OperatingPoint) -> str:
    """The slip as a factor in a product."""
    return factor(exact(point.slip))


def _squared(value: float) -> str:
    return f"{factor(carried(value))}²"


CIRCUIT = (
    Ask("voltage", "voltage between lines", "V"),
    FREQUENCY,
    POLES,
    Ask("stator_resistance", "R1, per phase, star", "Ω"),
    Ask("stator_reactance", "X1, stator leakage", "Ω"),
    Ask("rotor_resistance", "R2, referred to the stator", "Ω"),
    Ask("rotor_reactance", "X2, rotor leakage, referred to the stator", "Ω"),
    Ask("magnetising_reactance", "Xm", "Ω"),
)
SECOND_CAGE = (
    Ask("starting_cage_resistance", "Rs, starting cage of a double-cage or deep-bar rotor", "Ω", needed=False),
    Ask("running_cage_reactance", "Xr, leakage of its running cage alone; R2 is then the resistance of that cage", "Ω", needed=False),
)

SATURATION = (
    Ask("saturable_reactance", "X_sat, leakage on top of X1 that saturates", "Ω", needed=False),
    Ask("saturation_current", "line current at which half of X_sat is left", "A", needed=False),
)

TOPICS = (
    Topic(
        "equivalent-circuit",
        "current, power and torque of a motor at a slip",
        (*CIRCUIT, Ask("slip", "slip: 0 synchronous, 100 at standstill", "%"), *SECOND_CAGE, *SATURATION),
        equivalent_circuit,
    ),
)
