"""What is said and asked about a start: does the motor run up?"""

from __future__ import annotations

from physics.starting.starts import CRAWLS, RUNS, STAYS_AT_REST, Start
from scenes.drives.starting.case import Case
from scenes.drives.starting.motors import BREAKAWAY, RATED_CURRENT, RATED_TORQUE, SYNCHRONOUS
from scenes.drives.starting.snapshot import Snapshot
from scenes.drives.starting.starters import IN_A_SENTENCE, RISES, WORDS
from scenes.drives.starting.worked_out import StartTable
from scenes.scene.scene import Question
from scenes.scene.story import Look

OUTCOMES = ((RUNS, "it runs up"), (STAYS_AT_REST, "it stays at rest"), (CRAWLS, "it crawls at a low speed"))


class QuestionOfAStart(Question):
    """A question that is put at once. Its answer and reason come of the start, which may still be being worked out and is waited
    for when they are asked for."""

    case: Case
    starts: StartTable

    def __init__(self, case: Case, starts: StartTable):
        for name, value in {"text": _text(case), "choices": OUTCOMES, "case": case, "starts": starts}.items():
            object.__setattr__(self, name, value)

    @property
    def worked_out(self) -> bool:
        return self.starts.known(self.case) is not None

    @property
    def answer(self) -> str:
        return self.starts.at_once(self.case).start.outcome

    @property
    def reason(self) -> str:
        return _reason(self.case, self.starts.at_once(self.case).start)


def sentence(now: Snapshot, look: Look) -> str:
    case = now.case
    if now.start is None:
        return f"The motor, which drives the {case.drive}, is off while its start is worked out."
    return f"Driving the {case.drive} and started {IN_A_SENTENCE[case.method]}, the motor {now.start.sentence}."


def _text(case: Case) -> str:
    tapped = f" on its {100 * case.tap:g} % tap" if case.method == "autotransformer" else ""
    share, most = float(case.motor.at(1.0).torque) / RATED_TORQUE, case.motor.breakdown()[1] / RATED_TORQUE
    return (
        f"The {case.drive}, {_loaded(case)}, is started {IN_A_SENTENCE[case.method]}{tapped}. On full voltage the motor has "
        f"{100 * share:.0f} % of rated torque at standstill and {100 * most:.0f} % at breakdown. Does the motor run up?"
    )


def _loaded(case: Case) -> str:
    load = f"{100 * case.load:.0f} % of rated torque"
    if not case.load:
        return "which takes no torque"
    return {
        "flywheel": "which takes no torque but is heavy",
        "conveyor": f"which takes {load} to run and {100 * (BREAKAWAY - 1):.0f} % more than that to move from rest",
    }.get(case.drive, f"which takes {load} at full speed")


def _reason(case: Case, start: Start) -> str:
    rising = f"As the {RISES[case.method]} rises the torque comes to {start.run_up.torque.max():.0f} N m. " if case.method in RISES else ""
    return (
        f"At standstill the motor has {start.starting_torque:.0f} N m and draws "
        f"{start.starting_line_current / RATED_CURRENT:.1f} times its rated "
        f"current from the line; the load takes {case.torque_to_move:.0f} N m to move and {case.shaft.torque(SYNCHRONOUS):.0f} N m at full "
        f"speed. {rising}The motor {start.sentence}."
    )


def random_setup(random) -> dict:
    """Those that may well not run up more often than those that always do."""
    doubtful = ("star-delta", "autotransformer")
    return {
        "method": random.choice((*WORDS, *doubtful, *doubtful)),
        "drive": random.choice(("fan", "pump", "conveyor", "conveyor", "flywheel")),
        "load": float(random.choice((40, 80, 120, 160, 200))),
        "inertia": float(random.choice((5, 10, 20))),
        "tap": float(random.choice((50, 65))),
    }
