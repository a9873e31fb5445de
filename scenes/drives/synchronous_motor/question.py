"""What is said of a synchronous motor, and what is asked of it: whether it comes and stays in step, and how its current stands."""

from __future__ import annotations

import math

from scenes.drives.synchronous_motor import motors
from scenes.drives.synchronous_motor.readings import phase_words
from scenes.drives.synchronous_motor.snapshot import (
    BY_INVERTER,
    IN_PHASE,
    IN_STEP,
    LAGGING,
    LEADING,
    ON_MAINS,
    SLIPS,
    STAYS,
    Setup,
    Snapshot,
    outcome,
)
from scenes.scene.scene import Question, minus
from scenes.scene.story import Look

CHOICES = (
    (LEADING, "it runs in step with the field, its current leading"),
    (LAGGING, "it runs in step with the field, its current lagging"),
    (IN_PHASE, "it runs in step with the field, its current in phase with the voltage"),
    (SLIPS, "it turns, but out of step with the field"),
    (STAYS, "it stays at standstill, or comes to it"),
)


def sentence(now: Snapshot, look: Look) -> str:
    view = look.view
    rising = now.frequency < motors.FREQUENCY
    speed = "slower than 50 Hz yet" if rising else f"at {60 * now.field_speed:.0f} r/min"
    field = f"Looking at {view.end}, the field turns {view.turning(now.sense)} {speed}"
    if now.standstill:
        return f"{field}; the rotor is {now.standstill} standstill."
    if not now.in_step:
        return f"{field}; the rotor turns {view.turning(now.sense * now.speed)}, out of step with it."
    if not look.reveals_answer:
        return f"{field} and the rotor turns in step with it."
    back = math.degrees(now.load_angle)
    leans = f"{abs(back):.0f}° {'behind' if back >= 0 else 'ahead of'} it"
    factor = minus(math.cos(now.phase_angle), 2)
    return f"{field} and the rotor turns in step, {leans}; the current is {phase_words(now)}, power factor {factor}."


def question(now: Snapshot, look: Look) -> Question:
    setup = now.setup
    answer, last = outcome(setup)
    load = f"{setup.percent:g} % of rated torque" if setup.percent else "nothing"
    cage = "with" if setup.damper else "without"
    emf = f"an EMF of {100 * setup.emf / motors.VOLTAGE:.0f} % of the line voltage"
    text = {
        IN_STEP: f"A synchronous motor {cage} a damper cage runs in step without load, excited for {emf}. Then its load takes {load}.",
        ON_MAINS: f"A synchronous motor {cage} a damper cage, its load taking {load}, is switched on to the mains at standstill. It is "
        f"excited for {emf} {'before that' if setup.excited else 'when it comes to 95 % of synchronous speed'}.",
        BY_INVERTER: f"A synchronous motor {cage} a damper cage, excited for {emf}, its load taking {load}, is started by an inverter that "
        f"raises its frequency from 0 to 50 Hz in {motors.RISE:g} s.",
    }[setup.start]
    return Question(f"{text} What does the motor do?", CHOICES, answer, _reason(setup, answer, last))


def _reason(setup: Setup, answer: str, last: Snapshot) -> str:
    if answer in (LEADING, LAGGING, IN_PHASE):
        side = {LEADING: "more than", LAGGING: "less than", IN_PHASE: "about what"}[answer]
        return (
            f"The motor runs at exactly {60 * last.field_speed:.0f} r/min, the load angle "
            f"{math.degrees(last.load_angle):.0f}°. Its excitation is "
            f"{side} this load takes at unity power factor: its current of {last.current:.1f} A is {phase_words(last)}, power factor "
            f"{minus(math.cos(last.phase_angle), 2)}."
        )
    most = motors.most(setup.poles, setup.emf).torque / motors.rated_torque(setup.poles)
    torques = f"Its pull-out torque is {100 * most:.0f} % of rated, the load takes {setup.percent:g} %"
    if answer == SLIPS:
        if not setup.emf:
            return (
                "Without excitation the rotor has no poles for the field to hold. The damper cage turns it with slip, as in a cage motor."
            )
        if setup.percent / 100 > most:
            return f"{torques}: the field pulls past its poles."
        return f"{torques}, but it does not come into step: the swing, or the slip, is too large for the field to catch its poles."
    if setup.start == IN_STEP:
        past = "the field pulls past its poles" if setup.percent / 100 > most else "but the first swing carries it past that"
        return f"{torques}, {past}. Out of step, its torque only swings to and fro, and the load stops it."
    if setup.start == BY_INVERTER:
        return f"{torques}, and swings besides: as the frequency rises the rotor is left behind and only shakes."
    if not setup.damper and (not setup.excited or not setup.emf):
        return "A round rotor without excitation and without a cage carries no current: there is no torque at all."
    if not setup.damper:
        return (
            "The field passes the poles at rest 50 times a second, pulls them on and back again, and comes to no torque on the whole. A "
            "damper cage would start it, or an inverter that begins slowly."
        )
    return "At standstill the damper cage has less torque than load and excitation together take: it does not come up to speed."


def random_setup(random) -> dict:
    """Without a damper cage, running or by an inverter, a load so light that it is held: more than that is a matter of the swing."""
    start = random.choice((IN_STEP, IN_STEP, ON_MAINS, ON_MAINS, BY_INVERTER))
    damper = random.random() < 0.7
    light, heavy = (0.0, 20.0), (40.0, 80.0, 120.0, 170.0)
    weak, strong = (60.0, 80.0), (130.0, 160.0)
    return {
        "start": start,
        "load": random.choice((*light, *heavy) if damper or start == ON_MAINS else light),
        "excitation": random.choice((*weak, *strong) if damper or start != BY_INVERTER else weak),
        "damper": damper,
        "excited": random.choice(("near", "near", "before")),
        "poles": random.choice(("2", "4")),
        "lines": random.choice(("L1-L2-L3", "L2-L1-L3")),
        "lamp": random.choice(("steady", "flashing")),
    }
