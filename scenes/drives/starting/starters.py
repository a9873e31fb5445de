"""The starters of the starting scene: how each is called, which of its contactors are closed in which stage, what it puts on."""

from __future__ import annotations

from collections.abc import Callable

from physics.induction import EquivalentCircuit
from physics.starting.methods import (
    Autotransformer,
    DirectOnLine,
    InverterRamp,
    Method,
    RotorResistance,
    SoftStarter,
    StarDelta,
    standard_methods,
)
from physics.starting.stages import Pause, Stage

WORDS = {
    "direct": "direct-on-line (DOL)",
    "star-delta": "star-delta",
    "autotransformer": "autotransformer",
    "soft-starter": "soft starter",
    "inverter": "inverter",
    "wound-rotor": "wound rotor, resistance in steps",
}
IN_A_SENTENCE = {
    "direct": "direct-on-line",
    "star-delta": "in star-delta",
    "autotransformer": "by an autotransformer starter",
    "soft-starter": "by a soft starter",
    "inverter": "by an inverter",
    "wound-rotor": "with resistance in the rotor circuit, in steps",
}
IN_THE_PICTURE = {
    "direct": "direct-on-line",
    "star-delta": "star-delta",
    "autotransformer": "autotransformer",
    "soft-starter": "soft starter",
    "inverter": "inverter",
    "wound-rotor": "rotor resistance",
}
RISES = {"inverter": "frequency", "soft-starter": "voltage"}


def boost(motor: EquivalentCircuit) -> float:
    """V between lines that an inverter adds at standstill for this motor."""
    return next(method.boost for method in standard_methods(motor) if isinstance(method, InverterRamp))


def rotor_steps(motor: EquivalentCircuit) -> RotorResistance:
    """The steps of rotor resistance for this motor."""
    return next(method for method in standard_methods(motor) if isinstance(method, RotorResistance))


def starter(name: str, motor: EquivalentCircuit, tap: float, ramp: float) -> Method:
    """The method of that name; `tap` as a share of the voltage, `ramp` in s, each for the method that has one."""
    methods: dict[str, Callable[[], Method]] = {
        "direct": DirectOnLine,
        "star-delta": StarDelta,
        "autotransformer": lambda: Autotransformer(tap),
        "soft-starter": SoftStarter,
        "inverter": lambda: InverterRamp(ramp, boost(motor)),
        "wound-rotor": lambda: rotor_steps(motor),
    }
    return methods[name]()


def closed_contactors(name: str, stage: int | None) -> set[str]:
    """The contactors that are closed in the stage of that number, from 0; none before switching on."""
    if stage is None:
        return set()
    if name == "star-delta":
        return {"main contactor"} | ({"star contactor"}, set(), {"delta contactor"})[stage]
    if name == "autotransformer":
        return ({"transformer contactor", "star-point contactor"}, {"full-voltage contactor"})[stage]
    if name == "wound-rotor":
        return {"main contactor"} | {f"step {number} contactor" for number in range(1, stage + 1)}
    return {"main contactor"}


def on_a_winding(stage: Stage | Pause, seconds: float, motor: EquivalentCircuit) -> tuple[float, float]:
    """Voltage, V, that the supply puts across each winding `seconds` after the stage began, and its frequency, Hz.

    In delta that is the voltage between lines, in star that over root three.
    """
    if isinstance(stage, Pause):
        return 0.0, 0.0
    voltage, frequency = stage.voltage_and_frequency(seconds)
    in_star = stage.first.connection.winding == "star"
    return voltage * motor.line_voltage / (3.0**0.5 if in_star else 1.0), frequency * motor.frequency
