"""Inputs of the calculations from what several scenes have: a running motor, its circuit, its plate."""

from __future__ import annotations

from physics.induction import EquivalentCircuit
from physics.nameplate import Nameplate

Inputs = dict[str, float | str]


def of_running(frequency: float, poles: int, speed: float) -> dict[str, Inputs]:
    """The calculations of speed and slip; speed: r/min, positive with the field."""
    supply: Inputs = {"frequency": frequency, "poles": poles}
    running = supply | {"speed": speed}
    return {"synchronous-speed": supply, "slip": running, "rotor-frequency": running}


def of_circuit(motor: EquivalentCircuit) -> Inputs:
    """Everything about a circuit but the slip."""
    names = ["frequency", "poles", "stator_resistance", "stator_reactance", "rotor_resistance", "rotor_reactance", "magnetising_reactance"]
    names += ["starting_cage_resistance", "running_cage_reactance"] if motor.two_cages else []
    names += ["saturable_reactance", "saturation_current"] if motor.saturates else []
    return {"voltage": motor.line_voltage} | {name: getattr(motor, name) for name in names}


def of_plate(plate: Nameplate) -> Inputs:
    """A plate in the units printed on it, and of the catalogue's figures those that are known."""
    names = ("frequency", "current", "power_factor", "connection", "starting_current", "starting_torque", "breakdown_torque")
    known = {name: getattr(plate, name) for name in names if getattr(plate, name) is not None}
    return {"power": plate.power / 1000, "voltage": plate.line_voltage, "speed": 60 * plate.speed} | known
