"""What is said of a motor that slips, and what is asked of it: whether it carries a load."""

from __future__ import annotations

from scenes.drives.slip_and_speed.snapshot import Snapshot
from scenes.scene.scene import Question, minus
from scenes.scene.story import Look

ABOUT_RATED = 1.02  # times the rated current that still counts as not more than it
RUNS = (
    ("rated", "it runs on, with about its rated current or less"),
    ("over", "it runs on, with more than its rated current"),
    ("stalls", "it stalls"),
)


def sentence(now: Snapshot, look: Look) -> str:
    view, rpm = look.view, 60 * now.motor.circuit.synchronous_speed
    field = f"Seen from {view.end} the field turns {view.turning(now.sense)} at {rpm:.0f} r/min"
    assumed = ", by assumed figures" if now.motor.rests_on_assumption(now.slip) else ""
    if now.stalled:
        rotor = f"the rotor stands: it has stalled and draws {now.times:.1f} times its rated current{assumed}."
    else:
        turning = f"the rotor {view.turning(now.sense * now.speed)} at {60 * abs(now.speed):.0f} r/min"
        falls = "; the load is too much for it and it is stalling" if now.setup.settles >= 1 else ""
        rotor = f"{turning}, with a slip of {minus(100 * now.slip, 1)} % and {now.times:.1f} times its rated current{assumed}{falls}."
    refused = " The nameplate contradicts itself; the motor before it stays." if now.setup.refused else ""
    return f"{field}, {rotor}{refused}"


def question(now: Snapshot, look: Look) -> Question:
    motor = now.motor
    circuit, slip = motor.circuit, now.setup.settles
    current = float(abs(circuit.at(slip).stator_current)) / motor.rated_current
    answer = "stalls" if slip >= 1 else "over" if current > ABOUT_RATED else "rated"
    return Question(
        f"A motor ({circuit.frequency:g} Hz, {circuit.poles} poles, field at {60 * circuit.synchronous_speed:.0f} r/min) runs without "
        f"load. Then its load asks for {now.setup.percent:g} % of the rated torque. What does the motor do?",
        RUNS,
        answer,
        _reason(now, answer, slip, current),
    )


def _reason(now: Snapshot, answer: str, slip: float, current: float) -> str:
    motor, percent = now.motor, now.setup.percent
    breakdown_slip, breakdown = motor.breakdown
    guessed = " (assumed: not on the nameplate)" if "breakdown_torque" in motor.unknown else ""
    most = (
        f"The most torque the motor has is {100 * breakdown / motor.rated_torque:.0f} % of rated{guessed}, at a slip of "
        f"{100 * breakdown_slip:.0f} %."
    )
    if answer == "stalls":
        return (
            f"{most} The load asks for {percent:g} %, so the rotor slows down until it stalls; at standstill the motor draws {current:.1f} "
            "times its rated current, and all power across the gap is heat."
        )
    speed = 60 * motor.circuit.synchronous_speed * (1 - slip)
    return (
        f"The motor slips until its torque meets the load: {100 * slip:.1f} %, {speed:.0f} r/min, "
        f"{motor.circuit.frequency * slip:.1f} Hz in "
        f"the rotor, and {current:.2f} times its rated current. {most}"
    )


def random_setup(random) -> dict:
    by_plate = random.random() < 0.3
    return {
        "load": float(random.choice((20, 40, 80, 95, 130, 160, 200, 260, 300))),
        "plate": by_plate,
        "frequency": float(random.choice((50, 50, 50, 60, 30, 80))),
        "poles": random.choice(("2", "4", "6", "8")),
        "lines": random.choice(("L1-L2-L3", "L2-L1-L3")),
        "lamp": random.choice(("steady", "flashing")),
    }
