"""Working of a nameplate: poles, slip, torque and efficiency from its figures, and the circuit fitted to them."""

from __future__ import annotations

from physics import arguments, speeds
from physics.nameplate import Nameplate, NameplateFit, fit_circuit
from scenes.workings.speeds import rotor_frequency_step, slip_step, synchronous_speed_step
from scenes.workings.writing import Ask, Given, Quantity, Step, Table, Topic, Working, carried, exact, figure, known, step


def nameplate(power, voltage, frequency, speed, current, power_factor, connection="delta", **multiples) -> Working:
    """A plate with `power`, kW at the shaft, `voltage`, V between lines, `frequency`, Hz, `speed`, r/min, `current`, A,
    and `power_factor`; from a catalogue, any of `starting_current`, `starting_torque` and `breakdown_torque` as
    multiples of rated."""
    plate = read_plate(power, voltage, frequency, speed, current, power_factor, connection, **multiples)
    fit = fit_circuit(plate)
    return Working(
        "What a nameplate tells you",
        _given(plate, float(power), float(speed)),
        (*_speeds(plate, float(speed)), *_powers(plate, float(speed)), _in_the_windings(plate), *_multiples(plate)),
        tables=(_circuit(fit), _comparison(fit)),
        remark=" ".join([fit.sentence, fit.assumption]).strip(),
    )


def read_plate(power, voltage, frequency, speed, current, power_factor, connection="delta", **multiples) -> Nameplate:
    """The plate, in the units printed on a motor; `ValueError` for one that contradicts itself."""
    power = arguments.positive("power", power)
    speed = arguments.positive("speed", speed)
    watts, per_second = 1000 * power, float(speeds.revolutions_per_second(speed))
    try:
        return Nameplate(
            watts,
            arguments.positive("voltage", voltage),
            frequency,
            per_second,
            current,
            power_factor,
            connection,
            **multiples,
        )
    except ValueError as wrong:
        # physics speaks of watts and revolutions per second
        text = str(wrong).replace("line_voltage", "voltage").replace("must be in W and at least", "must be at least")
        if text.startswith("speed"):
            text += f" ({speed:g} r/min is {per_second:g} rev/s)"
        if text.startswith("power must"):
            text += f" ({power:g} kW is {watts:g} W)"
        raise ValueError(text) from None


def _given(plate: Nameplate, kilowatts: float, per_minute: float) -> tuple[Given, ...]:
    multiples = (
        ("I_st / I", "starting current, × rated", plate.starting_current),
        ("T_st / T", "starting torque, × rated", plate.starting_torque),
        ("T_b / T", "breakdown torque, × rated", plate.breakdown_torque),
    )
    return (
        known("P", "power at the shaft", kilowatts, "kW"),
        known("U", f"voltage between lines, windings in {plate.connection}", plate.line_voltage, "V"),
        known("f", "frequency of the supply", plate.frequency, "Hz"),
        known("n", "speed", per_minute, "r/min"),
        known("I", "line current", plate.current, "A"),
        known("cos φ", "power factor", plate.power_factor),
        *(known(symbol, words, value) for symbol, words, value in multiples if value is not None),
    )


def _speeds(plate: Nameplate, per_minute: float) -> tuple[Step, ...]:
    """The poles from the speed, then synchronous speed, slip and rotor frequency."""
    poles = step(
        "number of poles: the field is just ahead of the rotor",
        "poles",
        "120 f / n, rounded down to an even number",
        f"120 × {exact(plate.frequency)} Hz / {exact(per_minute)} r/min, rounded down",
        plate.poles,
    )
    first, synchronous = synchronous_speed_step(plate.frequency, plate.poles)
    second, fraction = slip_step(synchronous, per_minute)
    return poles, first, second, rotor_frequency_step(plate.frequency, fraction)


def _powers(plate: Nameplate, per_minute: float) -> tuple[Step, ...]:
    watts, drawn = exact(plate.power), carried(plate.input_power)
    return (
        step("rated torque", "T", "P / (2π n)", f"{watts} W / (2π × {exact(per_minute)} r/min / 60)", plate.torque, "N m"),
        step(
            "input power",
            "P1",
            "√3 U I cos φ",
            f"√3 × {exact(plate.line_voltage)} V × {exact(plate.current)} A × {exact(plate.power_factor)}",
            plate.input_power,
            "W",
        ),
        Step(
            "efficiency",
            "η",
            "P / P1",
            f"{watts} W / {drawn} W",
            (Quantity(plate.efficiency), Quantity(100 * plate.efficiency, "%", 3)),
        ),
        step("losses", "Pv", "P1 − P", f"({drawn} − {watts}) W", plate.losses, "W"),
    )


def _in_the_windings(plate: Nameplate) -> Step:
    """In star a winding carries the line current, in delta it has the line voltage; the other quantity is √3 less."""
    if plate.connection == "star":
        return step(
            "voltage across a winding, in star",
            "U_w",
            "U / √3",
            f"{exact(plate.line_voltage)} V / √3",
            plate.winding_voltage,
            "V",
        )
    return step("current in a winding, in delta", "I_w", "I / √3", f"{exact(plate.current)} A / √3", plate.winding_current, "A")


def _multiples(plate: Nameplate) -> tuple[Step, ...]:
    """The catalogue's multiples, in amperes and newton metres."""
    rows = (
        ("starting current", "I_st", "I", plate.starting_current, plate.current, "A", exact(plate.current)),
        ("starting torque", "T_st", "T", plate.starting_torque, plate.torque, "N m", carried(plate.torque)),
        ("breakdown torque", "T_b", "T", plate.breakdown_torque, plate.torque, "N m", carried(plate.torque)),
    )
    return tuple(
        step(words, symbol, f"({symbol} / {rated}) {rated}", f"{exact(times)} × {shown} {unit}", times * value, unit)
        for words, symbol, rated, times, value, unit, shown in rows
        if times is not None
    )


def _circuit(fit: NameplateFit) -> Table:
    motor = fit.circuit
    title = "equivalent circuit fitted to the plate, per phase in star, referred to the stator"
    if fit.assumed:
        title = "fitted circuit, partly assumed (see below), per phase in star, referred to the stator"
    second_cage = (
        ("Rs", "starting cage resistance", motor.starting_cage_resistance),
        ("Xr", "running cage reactance", motor.running_cage_reactance),
    )
    saturable = (
        (
            "X_sat",
            f"leakage reactance on top of X1 that saturates, half of it left at {figure(motor.saturation_current)} A, assumed",
            motor.saturable_reactance,
        ),
    )
    return Table(
        title,
        (("", ""), ("", ""), ("", "Ω")),
        (
            ("R1", "stator resistance", motor.stator_resistance),
            ("X1", "stator leakage reactance", motor.stator_reactance),
            ("R2", "running cage resistance" if motor.two_cages else "rotor resistance", motor.rotor_resistance),
            ("X2", "rotor leakage reactance", motor.rotor_reactance),
            ("Xm", "magnetising reactance", motor.magnetising_reactance),
            *(second_cage if motor.two_cages else ()),
            *(saturable if motor.saturates else ()),
        ),
    )


def _comparison(fit: NameplateFit) -> Table:
    units = {"current": " in A", "torque": " in N m", "power factor": ""}
    return Table(
        "how well the circuit matches the plate",
        (("", ""), ("plate", ""), ("circuit", ""), ("difference", "%")),
        tuple(
            (
                f"{each.name}{units.get(each.name, ', × rated')}",
                each.plate,
                each.fitted,
                round(100 * each.difference, 2) + 0.0,
            )
            for each in fit.comparisons
        ),
    )


PLATE = (
    Ask("power", "power at the shaft", "kW"),
    Ask("voltage", "voltage between lines", "V"),
    Ask("frequency", "frequency of the supply", "Hz"),
    Ask("speed", "speed at rated load", "r/min"),
    Ask("current", "line current at rated load", "A"),
    Ask("power_factor", "power factor at rated load"),
    Ask("connection", "connection of the windings at this voltage, delta if not given", needed=False, choices=("star", "delta")),
    Ask("starting_current", "starting current, as a multiple of rated", needed=False),
    Ask("starting_torque", "starting torque, as a multiple of rated", needed=False),
    Ask("breakdown_torque", "breakdown torque, as a multiple of rated", needed=False),
)

TOPICS = (Topic("nameplate", "poles, slip, torque, efficiency and circuit of a motor from its nameplate", PLATE, nameplate),)
