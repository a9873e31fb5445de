"""What is read, said and asked of the cage rotor, each from what was observed of one moment and the end one looks from."""

from __future__ import annotations

import numpy as np

from physics.speeds import rotor_frequency
from scenes.machines.cage_observed import Observed
from scenes.machines.demonstration_cage import LENGTH, RADIUS, rated_torque
from scenes.scene.scene import Question, Reading, View, minus
from scenes.scene.seen_from_an_end import AXIS

RPM = 30 / np.pi
LAGGING = "The current of this bar lags so far behind that for the moment it still flows"
TURNS = ("clockwise", "counter-clockwise")


def readings(o: Observed, view: View) -> list[Reading]:
    return [*_of_motion(o, view), *_of_supply(o), *_of_the_bar(o), *_of_the_rotor(o, view)]


def _of_motion(o: Observed, view: View) -> list[Reading]:
    field_rpm, rotor_rpm, synchronous_rpm = o.field_speed * o.sense * RPM, o.moment.rotor_speed * o.sense * RPM, abs(o.synchronous) * RPM
    frequency, poles = o.fed.circuit.frequency, o.fed.circuit.poles
    return [
        Reading("n\N{LATIN SUBSCRIPT SMALL LETTER S}", "speed of the field", minus(field_rpm, 0), "r/min",
                "the field is stopped: direct current in the lines, as from an inverter that holds still" if o.stands else
                f"nₛ = 120 f / poles = 120 × {frequency:g} Hz / {poles} = {synchronous_rpm:.0f} r/min"),
        Reading("n", "speed of the rotor, with the field positive", minus(rotor_rpm, 0), "r/min",
                f"seen from {view.end} it turns {view.turning(o.moment.rotor_speed)}" if abs(rotor_rpm) > 0.5 else "it is at standstill"),
        Reading("s", "slip", minus(100 * o.slip, 1), "%",
                "as if the bars were at standstill and the field swept past them at this speed" if o.stands else
                f"s = (nₛ − n) / nₛ = ({synchronous_rpm:.0f} − {minus(rotor_rpm, 0)}) / {synchronous_rpm:.0f}", tells=True),
        Reading("f\N{LATIN SUBSCRIPT SMALL LETTER R}", "frequency in the rotor", f"{float(rotor_frequency(frequency, o.slip)):.1f}", "Hz",
                f"fᵣ = s f = {abs(o.slip):.3f} × {frequency:g} Hz", tells=True),
    ]


def _of_supply(o: Observed) -> list[Reading]:
    """The field in the gap and, where it turns, what the supply gives for it."""
    if o.stator is None:
        return [Reading("B", "field in the gap, peak", f"{o.crest:.3f}", "T", "held constant", tells=True)]
    circuit, point = o.fed.circuit, o.stator
    lines = np.sqrt(3) * abs(point.phase_voltage)
    induced = f"it induces {abs(point.gap_voltage):.0f} V of the {abs(point.phase_voltage):.0f} V per phase; the rest drops in the stator"
    return [
        Reading("B", "field in the gap, peak", f"{o.crest:.3f}", "T", "held constant, whatever the rotor draws" if o.held else induced, tells=True),
        Reading("U", "voltage between lines", f"{lines:.0f}", "V",
                f"what it takes to hold the field: {induced}" if o.held else
                f"fixed, whatever the rotor draws: {circuit.line_voltage:.0f} V at {circuit.frequency:g} Hz", tells=o.held),
        Reading("I\N{SUBSCRIPT ONE}", "current in a line", f"{abs(point.stator_current):.2f}", "A",
                "by the equivalent circuit: the magnetising current and what balances the bars", tells=True),
    ]


def _of_the_bar(o: Observed) -> list[Reading]:
    state, k = o.state, o.number
    field, cutting = float(np.linalg.norm(o.field)), float(np.linalg.norm(o.motion))
    return [
        Reading("E", f"EMF of bar {k + 1}, toward the drive end positive", minus(1000 * state.emf[k], 1), "mV",
                f"E = B l v = {field:.3f} T × {LENGTH:.3f} m × {cutting:.2f} m/s", tells=True),
        Reading("I", f"current of bar {k + 1}, toward the drive end positive", minus(state.current[k], 0), "A",
                f"it lags its EMF: the cage's network at {abs(o.slip) * o.fed.circuit.frequency:.1f} Hz", tells=True),
        Reading("F", f"force on bar {k + 1}, with the field's rotation positive", minus(o.sense * state.force[k], 2), "N",
                f"F = B I l = {field:.3f} T × {abs(state.current[k]):.0f} A × {LENGTH:.3f} m", tells=True),
    ]


def _of_the_rotor(o: Observed, view: View) -> list[Reading]:
    state, rated = o.state, rated_torque(o.fed.circuit.poles)
    forces = float(np.sum(state.force))
    sense = view.turning(state.torque)
    return [
        Reading("", f"direction of the torque, seen from {view.end}", sense if sense != "none" else "no torque", "", tells=True),
        Reading("T", "torque on the rotor, with the field's rotation positive", minus(o.sense * state.torque, 2), "N m",
                f"T = Σ F r = {minus(o.sense * forces, 1)} N × {RADIUS:.3f} m", tells=True),
        Reading("T\N{LATIN SUBSCRIPT SMALL LETTER L}", "load on the shaft", f"{o.load:.2f}", "N m",
                f"{100 * o.load / rated:.0f} % of the rated {rated:.2f} N m" if o.free else "the shaft is held or driven"),
        Reading("β", "the rotor's field behind the gap field, electrical", "none" if np.isnan(state.lag) or state.reaction_mmf < 1e-6
                else minus(np.degrees(o.sense * state.lag), 0), "°", "90° and what the current lags its EMF", tells=True),
    ]


def sentence(o: Observed, view: View) -> str:
    field = "The field stands" if o.stands else f"The field turns {view.turning(o.field_speed)}"
    rotor = f"the rotor turns {view.turning(o.moment.rotor_speed)}" if abs(o.moment.rotor_speed) > 0.1 else "the rotor stands"
    sense = view.turning(o.state.torque) if abs(o.state.torque) > 1e-6 else "none"
    pushed = f"its bars are pushed {sense}" if sense != "none" else "no bar carries current and none is pushed"
    if o.stalled:
        return f"{field} and {rotor}, seen from {view.end}; {pushed}. The load is more than that: it stalls."
    held = f" The field is held at {o.crest:.2f} T." if o.held or o.stands else ""
    return f"{field} and {rotor}, seen from {view.end}; {pushed}.{held}"


def question(o: Observed, view: View, pole: str, rotor: str, percent: float) -> Question:
    """rotor: how its shaft is, as the scene's control has it; percent: of synchronous speed, of one that is driven."""
    return _of_the_current(o, view, pole) if o.stands else _of_the_torque(o, view, pole, rotor, percent)


def _of_the_current(o: Observed, view: View, pole: str) -> Question:
    along = float(o.current @ AXIS)
    answer = "toward" if along > 0 else "away" if along < 0 else "none"
    right = _hand(o, view, "right")
    return Question(
        f"The field stands still and the bars are turned {view.turning(o.moment.rotor_speed)}, seen from {view.end}. Which way does current flow in "
        f"the bar at the {pole} pole?",
        (("toward", "toward the drive end"), ("away", "away from the drive end"), ("none", "no current flows")), answer,
        f"Bar {o.number + 1}. {right} {LAGGING} {dict(toward='toward the drive end', away='away from the drive end').get(answer)}." if o.lags else
        f"Bar {o.number + 1}. {right} The force on it is then against its motion. {_hand(o, view, 'left')}",
    )


def _of_the_torque(o: Observed, view: View, pole: str, rotor: str, percent: float) -> Question:
    sense = view.turning(o.moment.rotor_speed)
    shaft = {"free": "stands and is let go", "held": "is held still"}.get(
        rotor, f"is driven {sense} at {abs(percent):g} % of the field's speed" if percent else "is held still")
    answer = view.turning(o.state.torque) if abs(o.state.torque) > 1e-9 else "none"
    return Question(
        f"Seen from {view.end} the field turns {view.turning(o.field_speed)}; the rotor {shaft}. Which way do the forces on its bars push it?",
        (*((turn, turn) for turn in TURNS), ("none", "not at all")), answer, _reason(o, view, pole, answer),
    )


def _reason(o: Observed, view: View, pole: str, answer: str) -> str:
    if answer == "none":
        return "A bar that moves with the field cuts no flux: no EMF, no current, no force."
    relative = view.turning(o.moment.rotor_speed - o.field_speed)
    begins = (f"Relative to the field the bars move {relative}, seen from {view.end}. At the first instant bar {o.number + 1} is at the {pole} pole. "
              f"{_hand(o, view, 'right')} ")
    if o.lags:
        return f"{begins}{LAGGING} the other way. Over all bars together the torque is {answer}, against that motion."
    return f"{begins}{_hand(o, view, 'left')} So the bars are pushed {answer}, against that motion."


def _hand(o: Observed, view: View, side: str) -> str:
    return o.hand(side).words(view.directions.words)
