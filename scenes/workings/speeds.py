"""Workings of speed: synchronous speed, slip and the frequency in the rotor. Speeds are given and shown in r/min."""

from __future__ import annotations

from physics import arguments, speeds
from scenes.workings.writing import Ask, Given, Quantity, Step, Topic, Working, carried, exact, factor, known, one_or_others, step


def synchronous_speed(frequency, poles) -> Working:
    """Speed of a field of `poles` poles at `frequency`, Hz."""
    line, _ = synchronous_speed_step(frequency, poles)
    return Working(
        "Synchronous speed: how fast the field rotates",
        given_supply(frequency, poles),
        (line,),
        remark="It depends on frequency and poles alone, not on voltage or load.",
    )


def slip(frequency, poles, speed) -> Working:
    """Slip of a rotor running at `speed`, r/min, negative against the field."""
    given = _given_running(frequency, poles, speed)
    steps, fraction = _slip_steps(frequency, poles, speed)
    return Working("Slip: how far the rotor falls behind the field", given, steps, remark=_meaning(fraction))


def slip_from_speeds(field_speed, speed) -> Working:
    """Slip of a rotor running at `speed` in a field at `field_speed`, r/min; the rotor's is negative against the field."""
    field_speed, speed = arguments.positive("field_speed", field_speed), arguments.number("speed", speed)
    line, fraction = slip_step(field_speed, speed)
    given = known("n_s", "speed of the field", field_speed, "r/min"), known("n", "speed of the rotor", speed, "r/min")
    return Working("Slip: how far the rotor falls behind the field", given, (line,), remark=_meaning(fraction))


def generated_frequency(poles, speed) -> Working:
    """Frequency of the voltage from a rotor of `poles` poles driven at `speed`, r/min."""
    poles, speed = arguments.poles("poles", poles), arguments.positive("speed", speed)
    return Working(
        "Frequency of a generator",
        (known("poles", "number of poles", poles), known("n", "speed of the rotor", speed, "r/min")),
        (generated_frequency_step(poles, speed)[0],),
        remark="One cycle for each pole pair that passes: 3000 r/min is 50 Hz with 2 poles, 1500 r/min with 4.",
    )


def generated_frequency_step(poles: int, speed: float) -> tuple[Step, float]:
    """The working of the frequency that a rotor at `speed`, r/min, makes, and its value in Hz."""
    frequency = float(speeds.frequency_of_speed(speeds.revolutions_per_second(speed), poles))
    return step("frequency", "f", "poles × n / 120", f"{poles} × {exact(speed)} r/min / 120", frequency, "Hz"), frequency


def rotor_frequency(frequency, slip=None, poles=None, speed=None) -> Working:
    """Rotor frequency at `slip`, %, or for a motor of `poles` poles with the rotor at `speed`, r/min."""
    title = "Frequency of the rotor current"
    if one_or_others("slip", slip, poles=poles, speed=speed):
        given = _given_running(frequency, poles, speed)
        steps, fraction = _slip_steps(frequency, poles, speed)
        return Working(title, given, steps, remark=_meaning(fraction))
    percent = arguments.number("slip", slip)
    given = (
        known("f", "frequency of the supply", arguments.positive("frequency", frequency), "Hz"),
        known("s", "slip", percent, "%"),
    )
    fraction = percent / 100
    return Working(title, given, (rotor_frequency_step(frequency, fraction),), remark=_meaning(fraction))


def given_supply(frequency, poles) -> tuple[Given, ...]:
    """Supply frequency and poles; `ValueError` unless the frequency is above 0 and the poles are even."""
    frequency = arguments.positive("frequency", frequency)
    return known("f", "frequency of the supply", frequency, "Hz"), known("poles", "number of poles", arguments.poles("poles", poles))


def _given_running(frequency, poles, speed) -> tuple[Given, ...]:
    speed = arguments.number("speed", speed)
    return *given_supply(frequency, poles), known("n", "speed of the rotor", speed, "r/min")


def synchronous_speed_step(frequency, poles) -> tuple[Step, float]:
    """The working of the synchronous speed, and its value in r/min."""
    per_minute = float(speeds.revolutions_per_minute(speeds.synchronous_speed(frequency, poles)))
    numbers = f"120 × {exact(frequency)} Hz / {int(poles)}"
    return Step("synchronous speed", "n_s", "120 f / poles", numbers, (Quantity(per_minute, "r/min"),)), per_minute


def slip_step(synchronous: float, speed: float) -> tuple[Step, float]:
    """The working of the slip from speeds in r/min, and its value as a fraction."""
    fraction = float(speeds.slip(synchronous, speed))
    if abs(fraction) < 1e-12:  # rounding error of a rotor at synchronous speed
        fraction = 0.0
    line = Step(
        "slip",
        "s",
        "(n_s − n) / n_s",
        f"({exact(synchronous)} − {factor(exact(speed))}) r/min / {exact(synchronous)} r/min",
        (Quantity(fraction), Quantity(100 * fraction, "%", 3)),
    )
    return line, fraction


def _slip_steps(frequency, poles, speed) -> tuple[tuple[Step, ...], float]:
    """The steps from the supply to the rotor frequency, and the slip as a fraction."""
    first, synchronous = synchronous_speed_step(frequency, poles)
    second, fraction = slip_step(synchronous, float(speed))
    return (first, second, rotor_frequency_step(frequency, fraction)), fraction


def rotor_frequency_step(frequency, fraction: float) -> Step:
    """The working of the rotor frequency, from the slip as a fraction."""
    shown = carried(fraction) if fraction >= 0 else f"|{carried(fraction)}|"
    in_rotor = float(speeds.rotor_frequency(frequency, fraction))
    return step("rotor frequency", "f_r", "|s| f", f"{shown} × {exact(frequency)} Hz", in_rotor, "Hz")


def _meaning(fraction: float) -> str:
    """What the machine does at that slip, in a sentence."""
    if fraction > 1:
        return "Slip above 1: the rotor turns against the field, and the machine brakes."
    if fraction == 1:
        return "The rotor is at standstill: its frequency is that of the supply, as in a transformer."
    if fraction > 0:
        return "The rotor runs behind the field: the machine is a motor."
    if fraction == 0:
        return "The rotor keeps up with the field: no flux is cut, no current is induced, there is no torque."
    return "The rotor is driven ahead of the field: the machine generates."


FREQUENCY = Ask("frequency", "frequency of the supply", "Hz")
POLES = Ask("poles", "number of poles, even")
SPEED = Ask("speed", "speed of the rotor, negative against the field", "r/min")

TOPICS = (
    Topic("synchronous-speed", "synchronous speed of a motor", (FREQUENCY, POLES), synchronous_speed),
    Topic("slip", "slip of a motor, and its rotor frequency", (FREQUENCY, POLES, SPEED), slip),
    Topic(
        "slip-from-speeds",
        "slip from the speeds of field and rotor",
        (Ask("field_speed", "speed of the field", "r/min"), SPEED),
        slip_from_speeds,
    ),
    Topic(
        "generated-frequency",
        "frequency of a generator",
        (POLES, Ask("speed", "speed of the rotor", "r/min")),
        generated_frequency,
    ),
    Topic(
        "rotor-frequency",
        "frequency of the rotor current",
        (
            FREQUENCY,
            Ask("slip", "slip; or give poles and speed", "%", needed=False),
            Ask("poles", "number of poles, even", needed=False),
            Ask("speed", "speed of the rotor", "r/min", needed=False),
        ),
        rotor_frequency,
    ),
)
