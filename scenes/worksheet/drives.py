"""Exercises on drives: a run-up in star, braking, the synchronous motor, an inverter, and the parts of a motor."""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np

from physics.shaft.loads import Conveyor, Fan, Friction, Load, kinetic_energy
from physics.speeds import rotor_frequency, slip, synchronous_speed
from physics.starting.quasi_steady import settling_speed
from physics.synchronous import SynchronousMachine
from scenes.drives.starting.motors import MOTOR, RATED_TORQUE, SYNCHRONOUS
from scenes.machines.inside_a_motor.parts import CAGE, PARTS, number_of
from scenes.workings.writing import MINUS, Quantity, exact, figure
from scenes.worksheet.exercise import Accepted, Exercise, Kind
from visual.paper import curves, machines

FREQUENCIES, POLES = (50, 60), (2, 4, 6)
IN_STAR = replace(MOTOR, line_voltage=MOTOR.line_voltage / math.sqrt(3))
# percent of rated torque, that of a fan at synchronous speed
LOADS = (("fan", 25), ("fan", 40), ("fan", 60), ("fan", 90), ("fan", 160), ("fan", 190), ("fan", 220), ("conveyor", 20),
         ("conveyor", 35), ("conveyor", 50), ("conveyor", 80), ("conveyor", 95), ("conveyor", 110))  # fmt: skip
AT_REST, UP_TO_SPEED = 0.02, 0.9  # of synchronous speed: a load that does not move yet; what is called running
RUNS, CRAWLS, STAYS = "yes, it runs up", "no, it crawls at a part of its speed", "no, it stays at standstill"
# what the marks are for on changing over to delta: where there is no speed to read, one more
CHANGING_OVER = {comes: ((1, "what changing over does there"),) for comes in (RUNS, CRAWLS)} | {
    STAYS: ((1, "changing over: the torque of delta"), (1, "changing over: the line current of delta"))
}
# part of the drawing: the part of the motor that it shows
SHOWN = {
    "cowl": "cowl", "fan": "fan", "bearings": "drive-bearing", "end-shields": "drive-shield", "stator-winding": "stator-winding",
    "end-rings": "end-rings", "stator-core": "stator-core", "rotor-core": "rotor-core", "frame": "frame", "shaft": "shaft",
}  # fmt: skip
ASKED = 6  # parts at once
STOPS = {
    # how: (words, slip at first, slip at last), of the field that brakes or drives
    "plugged": ("brought to standstill by swapping two lines (plugging)", 2.0, 1.0),
    "run up": ("run up from standstill, direct-on-line", 1.0, 0.0),
}


def run_up_in_star(dice) -> Exercise:
    """Torque over speed in delta and star and that of the load: does it run up in star?"""
    kind, percent = dice.choice(LOADS)
    torque = percent / 100 * RATED_TORQUE
    load: Load = Fan(SYNCHRONOUS, torque, 1.0) if kind == "fan" else Conveyor(1.0, Friction(torque))
    settled = settling_speed(IN_STAR, load, 0.0) / SYNCHRONOUS
    comes = STAYS if settled < AT_REST else RUNS if settled > UP_TO_SPEED else CRAWLS
    share = 100 * settled if comes != STAYS else 0.0
    words = "Torque over speed of a motor in delta and in star, and of its load."
    at_standstill = 100 * float(IN_STAR.at(1.0).torque) / RATED_TORQUE
    return Exercise(
        f"Torque and speed of a motor, in delta and in star, and the torque that its {kind} takes. It is started in star. Does it run "
        "up in star, and why? At about what speed does it settle? What does changing over to delta there do?",
        f"{comes}; {figure(share, 2)} % of synchronous speed" if share else comes,
        (f"It speeds up as long as star gives more than the load takes. At standstill it gives {figure(at_standstill, 2)} % of rated "
         "torque; "
         + ("the load takes more." if comes == STAYS else f"the two meet at {figure(share, 2)} % of synchronous speed."),
         "Delta gives three times the torque of star, with three times its line current: "
         + ("there the change is from a motor that nearly runs already." if comes == RUNS
            else "changing over now is nearly the same as starting direct-on-line.")),
        _torque_curves(load, words),
        choices=(RUNS, CRAWLS, STAYS),
        lines=3,
        accepted=(Accepted(Quantity(share, "%"), 4.0),) if comes != STAYS else (),
        besides=((1, "the reason: star's torque against the load's"), *CHANGING_OVER[comes]),
        case=f"{kind}: {comes}",
    )  # fmt: skip


def _torque_curves(load: Load, words: str) -> str:
    speeds = np.linspace(0, 100, 101)
    turned = speeds / 100 * SYNCHRONOUS
    axes = curves.Axes(words, (0, 100), (0, 300), ("n in % of synchronous", "T in % of rated"))
    axes.marks(range(0, 101, 20), (100, 200, 300))
    for name, circuit, place in (("delta", MOTOR, 55), ("star", IN_STAR, 40)):
        axes.curve(name, speeds, 100 * circuit.at(1 - speeds / 100).torque / RATED_TORQUE, place)
    moving = np.maximum(turned, AT_REST * SYNCHRONOUS)  # a conveyor takes all of its torque to move from rest
    axes.curve("load", speeds, 100 * load.torque(moving) / RATED_TORQUE, 80, above=-3.0)
    return axes.drawing.svg()


def plugging(dice) -> Exercise:
    frequency, poles, percent = dice.choice(FREQUENCIES), dice.choice(POLES), dice.randrange(2, 6)
    field = 60 * float(synchronous_speed(frequency, poles))
    rotor = field * (1 - percent / 100)
    after = float(slip(-field, rotor))
    in_rotor = float(rotor_frequency(frequency, after))
    shown, turned = figure(field, 6), figure(rotor, 6)
    return Exercise(
        f"A {poles}-pole motor runs at {turned} r/min on {frequency} Hz. Two of its lines are swapped. What are its slip and the "
        "frequency in its rotor just after that?",
        f"slip {figure(100 * after, 4)} %; {figure(in_rotor)} Hz",
        (f"n_s = 120 f / poles = 120 × {frequency} / {poles} = {shown} r/min, now the other way round: {MINUS}{shown} r/min",
         f"s = ({MINUS}{shown} {MINUS} {turned}) / ({MINUS}{shown}) = {figure(100 * after, 4)} %",
         f"f_r = s f = {figure(after)} × {frequency} Hz = {figure(in_rotor)} Hz"),
        lines=3,
        accepted=(Accepted(Quantity(100 * after, "%"), 1.0), Accepted(Quantity(in_rotor, "Hz"), 1.0)),
        besides=((1, "the working of the slip: n_s the other way round"),),
    )  # fmt: skip


def energy_and_heat(dice) -> Exercise:
    """Energy of motion, and the rotor's heat of a run-up or a plugging without load: ½ J ω² (s₁² − s₂²)."""
    case = dice.choice(list(STOPS))
    how, first, last = STOPS[case]
    inertia, frequency, poles = dice.randrange(5, 200, 5) / 100, dice.choice(FREQUENCIES), dice.choice(POLES)
    speed = float(synchronous_speed(frequency, poles))
    energy = float(kinetic_energy(inertia, speed)) / 1000
    times = first**2 - last**2
    heat = energy * times
    rule = "three times the energy of motion" if times > 2 else "equal to the energy of motion"
    return Exercise(
        f"A motor and what it drives have an inertia of {exact(inertia)} kg m² and run at about {figure(60 * speed)} r/min. How large "
        f"is their energy of motion? How much heat is produced in the rotor when it is {how}, and the load takes no torque meanwhile?",
        f"energy of motion {figure(energy, 3)} kJ; heat {figure(heat, 3)} kJ",
        (f"W = ½ J ω² = ½ × {exact(inertia)} kg m² × (2π × {figure(speed)} /s)² = {figure(energy, 3)} kJ",
         f"Without load torque the heat in the rotor is {rule}: {figure(heat, 3)} kJ."),
        lines=3,
        accepted=(Accepted(Quantity(energy, "kJ"), 2.0, "energy of motion"), Accepted(Quantity(heat, "kJ"), 2.0, "heat")),
        besides=((1, "the working of the energy of motion"),),
        case=case,
    )  # fmt: skip


def load_angle(dice) -> Exercise:
    """The angle between a field and its rotor, and whether the machine is a motor or a generator."""
    angle, clockwise, motor = dice.choice((15, 25, 35, 45, 60)), dice.random() < 0.5, dice.random() < 0.5
    field = np.radians(dice.randrange(0, 360, 30))
    sense = -1 if clockwise else 1
    rotor = field - sense * (1 if motor else -1) * np.radians(angle)
    words = "A rotor with two poles in its field, looking at the drive end, and the direction in which both turn."
    return Exercise(
        "A two-pole synchronous machine turns in step with its field B in the direction of the arrow. How large is its load angle, "
        "measured on the drawing? Does it run as a motor or as a generator?",
        f"{angle}°; as a {'motor' if motor else 'generator'}",
        ("The rotor's N pole is behind the field: the field pulls it along, and it drives its load." if motor
         else "The rotor's N pole is ahead of the field: it pulls the field along, and has to be driven.",),
        machines.in_step(float(field), float(rotor), clockwise, words).svg(),
        lines=2,
        accepted=(Accepted(Quantity(angle, "°"), 20.0),),
    )  # fmt: skip


CLEARLY = 0.97  # power factor up to which a current leads or lags beyond doubt, and the excitation can bring it nearer to 1


def _machine(dice) -> tuple[SynchronousMachine, int]:
    volts, emf = dice.choice((400, 400, 690)), dice.choice((0.7, 0.8, 0.9, 1.1, 1.3, 1.5))
    machine = SynchronousMachine(volts, round(volts * emf), dice.randrange(20, 120, 5) / 10, dice.choice(FREQUENCIES), dice.choice((2, 4)))
    return machine, dice.choice((15, 20, 25, 30, 40))


def _described(machine: SynchronousMachine) -> str:
    return (
        f"A {machine.poles}-pole synchronous motor in star on {exact(machine.line_voltage)} V, {exact(machine.frequency)} Hz, has a "
        f"synchronous reactance of {exact(machine.reactance)} Ω a phase and is excited for an EMF of {exact(machine.emf)} V between "
        "lines; its resistance is neglected."
    )


def torque_of_load_angle(dice) -> Exercise:
    machine, degrees = _machine(dice)
    most, torque = machine.pull_out()[1], float(machine.torque(math.radians(degrees)))
    return Exercise(
        f"{_described(machine)} What is its pull-out torque, and its torque at a load angle of {degrees}°?",
        f"pull-out torque {figure(most)} N m; at the load angle {figure(torque)} N m",
        (f"T_max = U E / (X ω) = {exact(machine.line_voltage)} V × {exact(machine.emf)} V / ({exact(machine.reactance)} Ω × 2π × "
         f"{figure(machine.speed)} /s) = {figure(most)} N m",
         f"T = T_max sin δ = {figure(most)} N m × sin {degrees}° = {figure(torque)} N m"),
        lines=3,
        accepted=(Accepted(Quantity(most, "N m"), 2.0, "pull-out torque"), Accepted(Quantity(torque, "N m"), 2.0, "at the load angle")),
        besides=((1, "the working of the pull-out torque"),),
    )  # fmt: skip


def current_of_excitation(dice) -> Exercise:
    factor = 1.0
    while factor > CLEARLY:
        machine, degrees = _machine(dice)
        current = complex(machine.current(math.radians(degrees)))
        factor = current.real / abs(current)
    side = "leading" if current.imag > 0 else "lagging"
    more = "more" if side == "lagging" else "less"
    phase, back = machine.line_voltage / math.sqrt(3), machine.emf / math.sqrt(3)
    return Exercise(
        f"{_described(machine)} It runs at a load angle of {degrees}°. Find its current and its power factor. Does the current lead "
        "or lag? Must the excitation be raised or lowered to bring the power factor nearer to 1 at this load?",
        f"{figure(abs(current), 3)} A; power factor {figure(factor, 3)}, {side}; {'raised' if more == 'more' else 'lowered'}",
        (f"a phase: U = {figure(phase)} V, E = {figure(back)} V; across X there is √(U² + E² {MINUS} 2 U E cos δ) = "
         f"{figure(abs(current) * machine.reactance)} V",
         f"I = {figure(abs(current) * machine.reactance)} V / {exact(machine.reactance)} Ω = {figure(abs(current), 3)} A",
         f"P = 3 U E sin δ / X = 3 U I cos φ, so cos φ = E sin δ / (X I) = {figure(factor, 3)}",
         f"E cos δ = {figure(back * math.cos(math.radians(degrees)))} V is {'more' if side == 'leading' else 'less'} than U = "
         f"{figure(phase)} V: the current is {side}, and {more} excitation brings it nearer."),
        lines=6,
        accepted=(Accepted(Quantity(abs(current), "A"), 3.0), Accepted(Quantity(factor), 2.0)),
        besides=((1, "the working of the current"), (1, "the working of the power factor")),
    )  # fmt: skip


def inverter(dice) -> Exercise:
    poles, frequency = dice.choice(POLES), dice.randrange(10, 50, 5)
    field, volts = 60 * float(synchronous_speed(frequency, poles)), 400 * frequency / 50
    return Exercise(
        f"A {poles}-pole motor for 400 V, 50 Hz is fed by an inverter at {frequency} Hz. How fast does its field rotate, and what "
        "voltage keeps its flux about as it is at 50 Hz?",
        f"{figure(field)} r/min; {figure(volts)} V",
        (f"n_s = 120 f / poles = 120 × {frequency} / {poles} = {figure(field)} r/min",
         f"Flux goes as U / f: U = 400 V × {frequency} / 50 = {figure(volts)} V; at low frequencies a little more, for the resistance."),
        lines=2,
        accepted=(Accepted(Quantity(field, "r/min"), 1.0), Accepted(Quantity(volts, "V"), 5.0)),
    )  # fmt: skip


def parts_of_a_motor(dice) -> Exercise:
    asked = sorted(dice.sample(list(SHOWN), ASKED), key=lambda part: machines.pointed_at(part)[0])
    letters = dict(zip("ABCDEF", asked, strict=True))
    parts = {letter: PARTS[CAGE][number_of(CAGE, SHOWN[part]) - 1] for letter, part in letters.items()}
    names = {letter: part.name.partition(",")[0] for letter, part in parts.items()}
    head = ("part", "name", "job")
    filled = (head, *((letter, names[letter], f"to {part.job}") for letter, part in parts.items()))
    return Exercise(
        "A cage motor, its upper half cut along the shaft, the drive end on the right. Name the parts with a letter and say what each "
        "is there for.",
        "; ".join(f"{letter} {name}" for letter, name in names.items()),
        ("What turns: shaft, rotor core with bars and end rings, fan, and the inner rings of the bearings. All else is stationary.",),
        machines.cut_motor(letters, "The upper half of a cage motor, cut along its shaft.").svg(),
        table=(head, *((letter, "", "") for letter in letters)),
        filled=filled,
        lines=0,
    )  # fmt: skip


KINDS = {
    "motor-parts": Kind(("inside-a-motor",), 1, 12, parts_of_a_motor),
    "inverter": Kind(("changing-speed",), 1, 2, inverter),
    "load-angle": Kind(("synchronous-motor",), 1, 2, load_angle),
    "synchronous-torque": Kind(("synchronous-motor",), 2, 3, torque_of_load_angle),
    "excitation": Kind(("synchronous-motor",), 3, 5, current_of_excitation),
    "run-up": Kind(("starting",), 3, 4, run_up_in_star),
    "plugging": Kind(("braking",), 2, 3, plugging),
    "energy-and-heat": Kind(("braking", "starting"), 2, 3, energy_and_heat),
}
