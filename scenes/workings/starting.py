"""Working of a start: one motor, one load, every method of starting side by side."""

from __future__ import annotations

import math

from physics import arguments
from physics.induction import EquivalentCircuit
from physics.nameplate import fit_circuit
from physics.shaft.loads import REST_SPEED, Conveyor, Fan, Flywheel, Friction, Load, Pump, Shaft, kinetic_energy
from physics.starting import starts as starting
from physics.starting.methods import DirectOnLine, RotorResistance, StarDelta
from scenes.workings.circuit import CIRCUIT, SATURATION, SECOND_CAGE, angular_speed_step
from scenes.workings.nameplate import PLATE, read_plate
from scenes.workings.speeds import synchronous_speed_step
from scenes.workings.writing import Ask, Given, Quantity, Step, Table, Topic, Working, carried, exact, known, step

CURRENTS = "Currents are line currents, r.m.s.; the peaks are instantaneous, for switching at the worst instant."
WOUND_ROTOR = "Rotor-resistance starting needs a wound rotor with slip rings."
LOADS = ("fan", "pump", "conveyor", "flywheel")


def run_up(rotor_inertia, load, load_inertia, load_torque=0.0, breakaway_torque=None, **plate) -> Working:
    """The motor of this `plate` (see `nameplate.nameplate`) on a load (see `run_up_of_circuit`)."""
    fit = fit_circuit(read_plate(**plate))
    told = (fit.sentence, fit.assumption)
    return _side_by_side(fit.circuit, fit.friction, rotor_inertia, load, load_inertia, load_torque, breakaway_torque, told)


def run_up_of_circuit(
    voltage,
    frequency,
    poles,
    stator_resistance,
    stator_reactance,
    rotor_resistance,
    rotor_reactance,
    magnetising_reactance,
    rotor_inertia,
    load,
    load_inertia,
    load_torque=0.0,
    breakaway_torque=None,
    **more,
) -> Working:
    """The motor of this circuit, Ω per phase in star, V between lines, Hz, with a rotor of `rotor_inertia`, kg m².

    load: one of `LOADS`, of `load_inertia`, kg m², needing `load_torque`, N m: for a fan or pump at synchronous speed, for
    a conveyor at any speed; a flywheel needs none. breakaway_torque, N m: what it takes to move a conveyor
    from rest. more: a second cage and saturation, as in `circuit.equivalent_circuit`.
    """
    motor = EquivalentCircuit(
        stator_resistance, stator_reactance, rotor_resistance, rotor_reactance, magnetising_reactance,
        arguments.positive("voltage", voltage), frequency, poles, **more,
    )  # fmt: skip
    return _side_by_side(motor, Friction(), rotor_inertia, load, load_inertia, load_torque, breakaway_torque)


def _side_by_side(
    motor: EquivalentCircuit,
    friction: Friction,
    rotor_inertia,
    load,
    load_inertia,
    load_torque,
    breakaway_torque,
    told: tuple[str, ...] = (),
) -> Working:
    """The working; `told` are sentences on where the circuit comes from, for the remark."""
    driven = _load(load, motor.synchronous_speed, load_inertia, load_torque, breakaway_torque)
    shaft = Shaft(rotor_inertia, driven, friction=friction)
    starts = starting.compare(motor, shaft)
    return Working(
        "One motor, one load, started in different ways",
        _given(motor, float(rotor_inertia), load, float(load_inertia), float(load_torque), breakaway_torque),
        _steps(motor, shaft, float(rotor_inertia), float(load_inertia), starts),
        tables=(_table(starts),),
        remark=" ".join([_remark(starts), *filter(None, told)]),
    )


def _load(kind: str, synchronous_speed: float, inertia, torque, breakaway) -> Load:
    inertia, torque = arguments.not_negative("load_inertia", inertia), arguments.not_negative("load_torque", torque)
    if kind == "flywheel" and torque:
        raise ValueError("load_torque must be 0 or left out for a flywheel, which needs none")
    if breakaway is not None and kind != "conveyor":
        raise ValueError(f"breakaway_torque must be left out for a {kind}: it is that of a conveyor")
    if breakaway is not None and arguments.number("breakaway_torque", breakaway) < torque:
        raise ValueError(f"breakaway_torque must be at least load_torque, {torque:g} N m, not {breakaway:g}")
    if kind == "fan":
        return Fan(synchronous_speed, torque, inertia)
    if kind == "pump":
        return Pump(synchronous_speed, torque, inertia)
    if kind == "conveyor":
        return Conveyor(inertia, Friction(torque, breakaway))
    if kind == "flywheel":
        return Flywheel(inertia)
    raise ValueError(f"load must be one of {', '.join(LOADS)}, not {kind!r}")


def _given(
    motor: EquivalentCircuit, rotor_inertia: float, load: str, load_inertia: float, load_torque: float, breakaway: float | None
) -> tuple[Given, ...]:
    where = "at synchronous speed" if load in ("fan", "pump") else "at any speed"
    return (
        known("U", "voltage between lines", motor.line_voltage, "V"),
        known("f", "frequency of the supply", motor.frequency, "Hz"),
        known("poles", "number of poles", 2 * motor.pole_pairs),
        known("J_m", "inertia of the rotor", rotor_inertia, "kg m²"),
        known("J_l", f"inertia of the {load}", load_inertia, "kg m²"),
        known("T_l", f"torque of the {load} {where}", load_torque, "N m"),
        *([] if breakaway is None else [known("T_0", f"torque to move the {load} from rest", breakaway, "N m")]),
    )


def _steps(
    motor: EquivalentCircuit, shaft: Shaft, rotor_inertia: float, load_inertia: float, starts: list[starting.Start]
) -> tuple[Step, ...]:
    """What is worked out by hand beforehand: star-delta's one third, and the energy of everything that turns."""
    by_method = {each.method: each for each in starts}
    direct, star = by_method[DirectOnLine.name], by_method[StarDelta.name]
    speed_step, _ = synchronous_speed_step(motor.frequency, motor.poles)
    angular_step, angular = angular_speed_step(motor)
    impedance = motor.phase_voltage / direct.starting_motor_current
    energy = float(kinetic_energy(shaft.inertia, motor.synchronous_speed))
    across = float(motor.at(1.0).airgap_power)
    return (
        speed_step,
        angular_step,
        step(
            "starting current, direct-on-line",
            "I_d",
            "U / (√3 |Z|), at standstill",
            f"{exact(motor.line_voltage)} V / (√3 × {carried(impedance)} Ω)",
            direct.starting_line_current,
            "A",
        ),
        step(
            "starting torque, direct-on-line",
            "T_d",
            "Pg / ω_s, at standstill",
            f"{carried(across)} W / {carried(angular)} rad/s",
            direct.starting_torque,
            "N m",
        ),
        step(
            "starting line current, in star",
            "I_s",
            "I_d / 3",
            f"{carried(direct.starting_line_current)} A / 3",
            star.starting_line_current,
            "A",
        ),
        step(
            "starting torque, in star",
            "T_s",
            "T_d / 3",
            f"{carried(direct.starting_torque)} N m / 3",
            star.starting_torque,
            "N m",
        ),
        step(
            "total inertia",
            "J",
            "J_m + J_l",
            f"({exact(rotor_inertia)} + {exact(load_inertia)}) kg m²",
            shaft.inertia,
            "kg m²",
        ),
        Step(
            "kinetic energy at synchronous speed",
            "W",
            "½ J ω_s²",
            f"½ × {carried(shaft.inertia)} kg m² × ({carried(angular)} rad/s)²",
            (Quantity(energy, "J"), Quantity(energy / 1000, "kJ")),
        ),
    )


def _table(starts: list[starting.Start]) -> Table:
    """The methods side by side. A motor that does not run up goes on heating, so its time and heat are left open."""
    columns = (
        ("", ""),
        ("starting torque", "N m"),
        ("largest current", "A"),
        ("highest peak", "A"),
        ("time", "s"),
        ("speed", "r/min"),
        ("rotor heat", "kJ"),
        ("resistor heat", "kJ"),
    )
    return Table("side by side, from rest to running speed", columns, tuple(_row(each) for each in starts))


def _row(start: starting.Start) -> tuple[str | float, ...]:
    speed = 0.0 if abs(start.settled_speed) <= REST_SPEED else 60 * start.settled_speed
    counted = 1.0 if start.starts else math.nan
    return (
        start.method,
        start.starting_torque,
        start.largest_line_current,
        start.peak_line_current,
        counted * start.time,
        speed,
        counted * start.rotor_heat / 1000,
        counted * start.resistor_heat / 1000,
    )


def _remark(starts: list[starting.Start]) -> str:
    """Which methods fail to start it, and why."""
    failing = [f"{each.method.capitalize()} {each.sentence}." for each in starts if not each.starts]
    said = failing or ["Every method starts it."]
    wound = [WOUND_ROTOR] if any(each.method == RotorResistance.name for each in starts) else []
    return " ".join([*said, CURRENTS, *wound])


ON_THE_SHAFT = (
    Ask("rotor_inertia", "inertia of the rotor", "kg m²"),
    Ask("load", "what it drives: " + ", ".join(LOADS), choices=LOADS),
    Ask("load_inertia", "inertia of the load, referred to the motor shaft", "kg m²"),
    Ask(
        "load_torque",
        "load torque: fan and pump at synchronous speed, conveyor at any speed; 0 if not given",
        "N m",
        needed=False,
    ),
    Ask("breakaway_torque", "torque that moves a conveyor from rest; as when it runs if not given", "N m", needed=False),
)

TOPICS = (
    Topic("run-up", "starting methods side by side, for a motor with a nameplate", (*PLATE, *ON_THE_SHAFT), run_up, slow=True),
    Topic(
        "run-up-of-circuit",
        "starting methods side by side, for a motor with a known circuit",
        (*CIRCUIT, *ON_THE_SHAFT, *SECOND_CAGE, *SATURATION),
        run_up_of_circuit,
        slow=True,
    ),
)
