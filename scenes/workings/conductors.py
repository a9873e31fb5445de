"""Workings of the first lessons: field round a wire, force on a conductor and between two, EMF of a moving conductor and of a
coil."""

from __future__ import annotations

import numpy as np

from physics import arguments
from physics.conductors.force_and_emf import force, motional_emf
from physics.conductors.parallel_wires import force_between, force_per_metre
from physics.constants import VACUUM_PERMEABILITY
from physics.fields.currents import long_wire_field
from physics.synchronous.alternator import emf_of_phase
from scenes.workings.speeds import generated_frequency_step
from scenes.workings.writing import MINUS, Ask, Quantity, Step, Topic, Working, carried, exact, factor, figure, known, one_or_others, step


def wire_field(current, distance) -> Working:
    """Field of a long straight wire that carries `current`, A, at `distance`, mm, from its axis."""
    current = arguments.number("current", current)
    distance = arguments.positive("distance", distance)
    metres, permeability = distance / 1000, figure(VACUUM_PERMEABILITY * 1e6, 6)
    along, place = np.array([0.0, 0.0, 1.0]), np.array([metres, 0.0, 0.0])
    field = float(long_wire_field(place, np.zeros(3), along, current)[0, 1])
    return Working(
        "Field round a long straight wire",
        (known("I", "current", current, "A"), known("r", "distance from the centre of the wire", distance, "mm")),
        (
            Step(
                "field at that distance",
                "B",
                "µ₀ I / (2π r)",
                f"{permeability} µT m/A × {factor(exact(current))} A / (2π × {exact(metres)} m)",
                (Quantity(field * 1e6, "µT"), Quantity(field, "T")),
            ),
        ),
        remark="The field circles the wire: right hand, thumb along the current, fingers curl with the field."
        " At twice the distance it is half as strong.",
    )


def conductor_force(field, current, length, angle=90) -> Working:
    """Force on a straight conductor of `length`, mm, with `current`, A, in a uniform `field`, T; `angle`, degrees, from
    current to field."""
    field = arguments.not_negative("field", field)
    current = arguments.number("current", current)
    metres = arguments.positive("length", length) / 1000
    sine, across = _angle_to_field(angle)
    path = metres * np.array([[0.0, 0.0, 0.0], [1.0, 0.0, 0.0]])
    pushed = float(force(path, current, _uniform(field * across))[2])
    return Working(
        "Force on a conductor in a field",
        (
            known("B", "field", field, "T"),
            known("I", "current", current, "A"),
            known("l", "length in the field", length, "mm"),
            known("θ", "angle between current and field", angle, "°"),
        ),
        (
            step(
                "force",
                "F",
                "B I l sin θ",
                f"{exact(field)} T × {factor(exact(current))} A × {exact(metres)} m × sin {exact(angle)}°",
                pushed,
                "N",
            ),
        ),
        remark="Left hand: first finger field, second finger current, thumb force."
        if sine
        else "A current along the field feels no force.",
    )


def wires_force(current, other_current, distance, length=None) -> Working:
    """Force between two parallel wires with `current` and `other_current`, A, `distance`, mm, apart between centres; also on
    wires of `length`, mm, if that is given."""
    currents = arguments.number("current", current), arguments.number("other_current", other_current)
    metres = arguments.positive("distance", distance) / 1000
    each_metre = float(force_per_metre(*currents, metres))
    shown = " × ".join(f"{factor(exact(amperes))} A" for amperes in currents)
    given = [
        known("I₁", "current in one wire", currents[0], "A"),
        known("I₂", "current in the other, positive in the same direction", currents[1], "A"),
        known("d", "distance between centres", distance, "mm"),
    ]
    steps = [
        Step(
            "force per metre of long wires, positive for attraction",
            "F / l",
            "µ₀ I₁ I₂ / (2π d)",
            f"{figure(VACUUM_PERMEABILITY * 1e6, 6)} µN/A² × {shown} / (2π × {exact(metres)} m)",
            (Quantity(each_metre * 1e6, "µN/m"), Quantity(each_metre, "N/m")),
        )
    ]
    if length is not None:
        long = arguments.positive("length", length) / 1000
        pushed = float(force_between(*currents, metres, long))
        given.append(known("l", "length of the wires", length, "mm"))
        steps.append(
            Step(
                "force on wires of that length",
                "F",
                f"(F / l) (√(l² + d²) {MINUS} d)",
                f"{factor(carried(each_metre * 1e6))} µN/m × (√({exact(long)}² + {exact(metres)}²) {MINUS} {exact(metres)}) m",
                (Quantity(pushed * 1e6, "µN"), Quantity(pushed, "N")),
            )
        )
    together = "Currents in the same direction: the wires attract" if each_metre > 0 else "Currents in opposite directions: the wires repel"
    return Working(
        "Force between two parallel wires",
        tuple(given),
        tuple(steps),
        remark=f"{together} each other. Double both currents and the force is four times as large: a short circuit strains the supports."
        if each_metre
        else "Unless both carry current there is no force.",
    )


def conductor_emf(field, speed, length, angle=90, turns=1) -> Working:
    """EMF of `turns` straight conductors of `length`, mm, moved across their length at `speed`, m/s, in a uniform
    `field`, T; `angle`, degrees, from motion to field."""
    field = arguments.not_negative("field", field)
    speed = arguments.number("speed", speed)
    metres = arguments.positive("length", length) / 1000
    turns = arguments.whole("turns", turns)
    sine, across = _angle_to_field(angle)
    path = metres * np.array([[0.0, 0.0, 0.0], [0.0, 0.0, 1.0]])
    emf = motional_emf(path, [speed, 0.0, 0.0], _uniform(field * across), turns)
    return Working(
        "EMF of a conductor moving through a field",
        (
            known("N", "turns", turns),
            known("B", "field", field, "T"),
            known("l", "length in the field", length, "mm"),
            known("v", "speed", speed, "m/s"),
            known("θ", "angle between motion and field", angle, "°"),
        ),
        (
            step(
                "EMF",
                "E",
                "N B l v sin θ",
                f"{exact(turns)} × {exact(field)} T × {exact(metres)} m × {factor(exact(speed))} m/s × sin {exact(angle)}°",
                emf,
                "V",
            ),
        ),
        remark="Right hand: first finger field, thumb motion, second finger the direction of the EMF."
        if sine
        else "A conductor moving along the field cuts no flux and generates nothing.",
    )


def coil_emf(turns, flux, frequency=None, poles=None, speed=None, winding_factor=1) -> Working:
    """EMF of `turns` in series linking the `flux`, mWb, of one pole, which alternates at `frequency`, Hz, or as a rotor of
    `poles` poles driven at `speed`, r/min, makes it alternate."""
    turns = arguments.whole("turns", turns)
    flux = arguments.positive("flux", flux)
    winding_factor = arguments.positive("winding_factor", winding_factor)
    if winding_factor > 1:
        raise ValueError(f"winding_factor must be at most 1, that of a concentrated full-pitch winding, not {winding_factor:g}")
    if one_or_others("frequency", frequency, poles=poles, speed=speed):
        poles = arguments.poles("poles", poles)
        speed = arguments.positive("speed", speed)
        made, frequency = generated_frequency_step(poles, speed)
        shown = carried(frequency)
        given = [known("poles", "number of poles", poles), known("n", "speed of the rotor", speed, "r/min")]
        steps = [made]
    else:
        frequency = arguments.positive("frequency", frequency)
        shown = exact(frequency)
        given, steps = [known("f", "frequency", frequency, "Hz")], []
    webers = flux / 1000
    emf = float(emf_of_phase(frequency, turns, winding_factor, webers))
    steps += [
        step(
            "EMF, r.m.s.",
            "E",
            "4.44 f N k_w Φ",
            f"{figure(np.pi * np.sqrt(2), 6)} × {shown} Hz × {turns} × {exact(winding_factor)} × {exact(webers)} Wb",
            emf,
            "V",
        ),
        step("its peak", "Ê", "√2 E", f"√2 × {carried(emf)} V", np.sqrt(2) * emf, "V"),
    ]
    return Working(
        "EMF of a coil with alternating flux",
        (
            *given,
            known("N", "turns in series", turns),
            known("k_w", "winding factor", winding_factor),
            known("Φ", "flux per pole, the peak flux through the coil", flux, "mWb"),
        ),
        tuple(steps),
        remark="4.44 stands for √2 π, and holds for flux that alternates as a sine wave.",
    )


def _uniform(field: np.ndarray):
    """A uniform field, as a function of points."""
    return lambda points: np.broadcast_to(field, points.shape)


def _angle_to_field(angle) -> tuple[float, np.ndarray]:
    """The sine of an angle in degrees, and the unit vector in the x-y plane at that angle to x."""
    angle = arguments.number("angle", angle)
    if not 0 <= angle <= 180:
        raise ValueError(f"angle must be from 0 to 180 degrees, not {angle:g}")
    # to 15 decimals: otherwise the sine of 180 degrees comes out as 1.2e-16 instead of 0
    direction = np.array([np.cos(np.radians(angle)), np.sin(np.radians(angle)), 0.0]).round(15) + 0.0
    return float(direction[1]), direction


FIELD = Ask("field", "flux density", "T")
LENGTH = Ask("length", "length in the field", "mm")

TOPICS = (
    Topic(
        "wire-field",
        "field round a wire",
        (Ask("current", "current in the wire", "A"), Ask("distance", "distance from the centre of the wire", "mm")),
        wire_field,
    ),
    Topic(
        "conductor-force",
        "force on a conductor",
        (
            FIELD,
            Ask("current", "current in the conductor", "A"),
            LENGTH,
            Ask("angle", "angle between current and field, 90 if not given", "°", needed=False),
        ),
        conductor_force,
    ),
    Topic(
        "wires-force",
        "force between two parallel wires",
        (
            Ask("current", "current in one wire", "A"),
            Ask("other_current", "current in the other, positive in the same direction", "A"),
            Ask("distance", "distance between centres", "mm"),
            Ask("length", "length of the wires; without it, long wires", "mm", needed=False),
        ),
        wires_force,
    ),
    Topic(
        "conductor-emf",
        "EMF of a moving conductor",
        (
            FIELD,
            Ask("speed", "speed of the conductor", "m/s"),
            LENGTH,
            Ask("angle", "angle between motion and field, 90 if not given", "°", needed=False),
            Ask("turns", "conductors in series, 1 if not given", needed=False),
        ),
        conductor_emf,
    ),
    Topic(
        "coil-emf",
        "EMF of a coil by the 4.44 formula",
        (
            Ask("turns", "turns in series"),
            Ask("flux", "flux per pole", "mWb"),
            Ask("frequency", "frequency; or give poles and speed", "Hz", needed=False),
            Ask("poles", "poles of the rotor", needed=False),
            Ask("speed", "speed of the rotor", "r/min", needed=False),
            Ask("winding_factor", "pitch factor times distribution factor, 1 if not given", needed=False),
        ),
        coil_emf,
    ),
)
