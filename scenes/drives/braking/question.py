"""What is said of a braking, and what is asked: what the shaft does, and how much heat the rotor gets."""

from __future__ import annotations

from functools import lru_cache

from scenes.drives.braking.motors import BY_INVERTER, DIRECT, LINES, MOTOR, OFF, RATED_TORQUE, SWAPPED
from scenes.drives.braking.readings import opening, rest_after
from scenes.drives.braking.shaft import COAST, DIRECT_CURRENT, FASTEST, HOIST, PLUG, RAMP, Case
from scenes.drives.braking.snapshot import Setup, Snapshot
from scenes.scene.scene import Question
from scenes.scene.story import Look

ASKED = (("result", "what the shaft does"), ("heat", "heat in the rotor"))
STOPS, REVERSES, RUNS_ON, RUNS_AWAY = "stops", "reverses", "on", "away"
RESULTS = (
    (STOPS, "it slows down to standstill"),
    (REVERSES, "it slows down, then runs up in the opposite direction"),
    (RUNS_ON, "it runs on, a little faster than its field"),
    (RUNS_AWAY, "it runs away, faster and faster"),
)
LEAST, ONCE, THREE = "least", "once", "three"
HEATS = ((LEAST, "less than a quarter of that"), (ONCE, "about as much as that"), (THREE, "about three times that"))
MUCH_LESS, ABOUT = 0.2, 0.2  # of the energy of motion: surely less than a quarter; by what share about as much, or three times, may differ
METHODS = (
    (COAST, "switched off: it coasts"),
    (PLUG, "two lines swapped (plugging)"),
    (DIRECT_CURRENT, "direct current injected"),
    (HOIST, "driven past synchronous speed by its load"),
    (RAMP, "inverter lowers its frequency"),
)


def sentence(now: Snapshot, look: Look) -> str:
    view = look.view
    turning = view.turning(now.shaft_speed)
    shaft = "the shaft is at standstill" if turning == "none" else f"the shaft turns {turning}"
    if now.time < 0:
        return f"Looking at {view.end}, {shaft}, before the braking begins."
    if not look.reveals_answer:
        return f"{_given(now.setup)}."
    field = {
        OFF: f"{f'the zero-speed switch opened {opening(now.case)}' if now.case.stops else 'all contactors are open'}: there is no field",
        DIRECT: "the field of the direct current stands still",
        BY_INVERTER: "the field slows down with the inverter's frequency" if now.ratio else "the inverter has come down to standstill",
        SWAPPED: f"with two lines swapped the field rotates {view.turning(1.0)}",
        LINES: f"the field rotates {view.turning(-1.0)}",
    }[now.supplied]
    torque = float(now.running.torque) * now.speed
    does = "" if abs(torque) < 1e-3 * RATED_TORQUE else "; the motor drives it" if torque > 0 else "; the motor brakes it"
    back = " and feeds power back" if float(now.running.input_power) < -1 else ""
    away = now.case.runs_away and now.time >= float(now.case.history.time[-1])
    beyond = f"; faster than {100 * FASTEST:.0f} % of synchronous speed it is not followed" if away else ""
    return f"Looking at {view.end}, {shaft}; {field}{does}{back}{beyond}."


def _given(setup: Setup) -> str:
    if setup.method == HOIST:
        return (
            f"A motor runs on the lines. A weight, with {setup.inertia:g} times the rotor's inertia, begins to drive it with "
            f"{setup.percent:g} % of rated torque"
        )
    how = {
        COAST: "The motor is switched off",
        PLUG: f"Two of its lines are swapped, {'with' if setup.stops else 'without'} a zero-speed switch",
        DIRECT_CURRENT: f"It is taken off the lines and fed with direct current, {100 * setup.direct:g} % of its rated current",
        RAMP: f"Its inverter slows it down in {setup.ramp:g} s",
    }[setup.method]
    friction = f"takes {setup.percent:g} % of rated torque in friction" if setup.percent else "has no friction of its own"
    return f"A motor drives a load that has {setup.inertia:g} times its rotor's inertia and {friction}. {how}"


def result(case: Case) -> str:
    """What the shaft does in the end."""
    last = case.last
    if case.runs_away:
        return RUNS_AWAY
    if last < -0.5:
        return REVERSES
    return RUNS_ON if last > 0.5 else STOPS


def question(now: Snapshot, look: Look) -> Question:
    """Heat is asked of what comes to rest, for what runs on gets more for as long as it does, and where one choice is clearly right."""
    asked = now.setup.asked == "heat" and result(now.case) == STOPS and heat_is_clear(now.case)
    return heat_question(now) if asked else result_question(now)


def result_question(now: Snapshot) -> Question:
    return Question(f"{_given(now.setup)}. What does the shaft do?", RESULTS, result(now.case), _why(now))


def _why(now: Snapshot) -> str:
    case, answer = now.case, result(now.case)
    if answer == RUNS_AWAY:
        holds = f"{-generator()[1]:.0f} N m"
        return f"Past synchronous speed the motor can hold {holds} at most, and the weight drives with {case.driving:.0f} N m."
    if answer == RUNS_ON:
        faster = 100 * (case.last - 1)
        return (
            f"Past synchronous speed the rotor overtakes the field and generates: at {faster:.1f} % above synchronous "
            f"speed the motor holds "
            f"the {case.driving:.0f} N m, and {-float(_last_power(case)) / 1000:.1f} kW go back to the lines."
            if faster > 0
            else "The weight drives with less than the bearings take: the motor still drives a little."
        )
    if answer == REVERSES:
        return (
            "The field rotates in the opposite direction. It brakes the shaft to standstill and, as nothing opens the contactor, starts it "
            "the other way: a zero-speed switch would open the contactor."
        )
    after = {
        COAST: "Only load and bearings slow the shaft down",
        PLUG: "The field rotates against the shaft and brakes it hard",
        DIRECT_CURRENT: "The field stands still; the rotor generates into itself, and its torque fades with the speed",
        RAMP: "The field slows down and the rotor, faster than it, generates back; only near standstill is there "
        "nothing left to hold the rotor",
    }.get(case.method, "The shaft comes to rest")
    if case.method == PLUG and not case.stops:
        after = "The field rotates against the shaft, but at standstill the motor has less torque than load and bearings take"
    opens = f". The zero-speed switch opens {opening(case)}" if case.stops else ""
    heat = f"{heat_share(case):.2f} times the energy of motion as heat in the rotor"
    return f"{after}{opens}: standstill after {rest_after(now)}, with {heat}."


@lru_cache(maxsize=1)
def generator() -> tuple[float, float]:
    return MOTOR.generator_breakdown()


def _last_power(case: Case) -> float:
    return float(MOTOR.at(1 - case.last).input_power)


def heat_share(case: Case) -> float:
    """What the rotor gets as heat, of the energy of motion at the beginning."""
    return float(case.history.rotor_heat[-1]) / case.energy


def heat_class(case: Case) -> str:
    share = heat_share(case)
    return LEAST if share < 0.25 else ONCE if share < 1.5 else THREE


def heat_is_clear(case: Case) -> bool:
    """Whether the heat lies well inside one choice: friction takes a part of what the rotor would get."""
    share = heat_share(case)
    return share < MUCH_LESS or any(abs(share / each - 1) < ABOUT for each in (1, 3))


def heat_question(now: Snapshot) -> Question:
    case = now.case
    drawn = float(case.history.drawn[-1]) / case.energy
    fed = f"from the lines comes {drawn:.2f} times that energy" if drawn >= 0 else f"{-drawn:.2f} times that energy goes back to the lines"
    why = {
        COAST: "No current flows, so the rotor gets no heat",
        PLUG: "The slip begins at nearly 200 %, and what the field gives across the gap is heat besides the energy of motion",
        DIRECT_CURRENT: "The field stands still and gives nothing: what the shaft gives up, less its friction, is the heat",
        RAMP: "The field goes down with the shaft, the slip stays small, and most flows back",
    }[case.method]
    return Question(
        f"{_given(now.setup)}. How much heat does the motor's rotor get in the end, compared with the energy of motion that the "
        "motor and its load have together at first?",
        HEATS,
        heat_class(case),
        f"{why}: {heat_share(case):.2f} times the energy of motion of motor and load; {fed}.",
    )


def random_setup(random) -> dict:
    """Heat is asked of what comes to rest."""
    method = random.choice((COAST, PLUG, PLUG, DIRECT_CURRENT, HOIST, HOIST, RAMP))
    heat = method in (PLUG, DIRECT_CURRENT, RAMP, COAST) and random.random() < 0.4
    return {
        "method": method,
        "zero": heat or random.random() < 0.5,
        "direct": float(random.choice((150, 200, 300))),
        "ramp": float(random.choice((2, 4))),
        "inertia": float(random.choice((3, 5, 8))),
        # direct current brakes gently enough for friction to take its part of the heat
        "friction": float(random.choice(((0,) if method == DIRECT_CURRENT else (0, 5)) if heat else (0, 0, 10, 20))),
        "weight": float(random.choice((60, 120, 200, 480))),
        "asked": "heat" if heat else "result",
    }
