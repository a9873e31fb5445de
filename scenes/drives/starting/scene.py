"""Starting: one motor and one load, started in six ways; what that does to the line, the time and the rotor."""

from __future__ import annotations

from scenes.drives.starting import curves, kinds, picture, question, readings, snapshot
from scenes.drives.starting.picture import METHODS
from scenes.drives.starting.question import QuestionOfAStart
from scenes.drives.starting.snapshot import Begun, Setup, Snapshot, advance, observe
from scenes.drives.starting.starters import WORDS
from scenes.drives.starting.worked_out import StartTable, WorkedOut
from scenes.scene import common_controls
from scenes.scene.controls import Choice, Number, slow_motion
from scenes.scene.curves import Plot
from scenes.scene.phases import colours
from scenes.scene.scene import Key, Question
from scenes.scene.story import Look, Story
from scenes.scene.views import View
from visual import palette

QUIET_PICTURES = 16  # without a change, before the rest of the table is worked out
ONLY_LOOKS = ("slow", "curves", "colours")  # controls that leave the start as it is

# close to the starter
STARTER_LETTERS = ("stage", "main", "delta", "star", "full", "transformer", "motor", "supply", "soft starter", "inverter", "L1", "L2", "L3")


PANEL, MACHINE, BARS = (
    ((-0.53, -0.085, 0.05), (-0.1, 0.315, 0.07)),
    ((-0.07, -0.08, -0.1), (0.1, 0.11, 0.22)),
    ((0.1, 0.015, 0.0), (0.38, 0.322, 0.0)),
)
ALL = (PANEL, MACHINE, BARS)  # without the edges of the bench, which may be cut off


class Starting(Story, parts=(snapshot, picture, readings, question, curves, kinds)):
    name = "starting"
    title = "Starting: current, time and heat"
    principle = (
        "Started direct-on-line, a cage motor draws several times its rated current. Every gentler start costs torque, time or money."
    )
    controls = (
        Choice("method", "Method of starting", "direct", tuple(WORDS.items())),
        Choice("drive", "Driven machine", "fan", (("fan", "fan"), ("pump", "pump"), ("conveyor", "conveyor"), ("flywheel", "flywheel"))),
        common_controls.load(80.0),
        Number("inertia", "Inertia of the load", 10.0, "times the rotor's", 1.0, 50.0, 1.0),
        Number("tap", "Transformer tap", 65.0, "%", 30.0, 90.0, 5.0, only_with=("method", "autotransformer")),
        Number("ramp", "Ramp time", 5.0, "s", 1.0, 20.0, 0.5, only_with=("method", "inverter")),
        Choice("curves", "Curves", "time", (("time", "against time"), ("speed", "torque against speed"))),
        colours(),
        slow_motion("1"),
    )
    arrows = (
        Key(
            "I", "line current, r.m.s., in times rated; pale, the largest of each method; grey, it does not run up", palette.HEX["current"]
        ),
        Key("n", "speed of the motor, as a share of synchronous speed", palette.HEX["motion"]),
    )
    subject = (
        ((-0.528, -0.09, 0.05), (-0.1, 0.312, 0.12)),
        ((-0.13, -0.1, 0.0), (0.1, 0.1, 0.2)),
        ((0.03, -0.02, -0.1), (0.33, 0.31, -0.06)),
    )
    letters = ("direct-on-line", "star-delta", "autotransformer", "soft starter", "inverter", "rotor resistance", "I", "n")
    views = (
        View("corner", "from the drive-end corner", (0.2, -0.18, -0.96), subject=ALL),
        View("drive-end", "from the drive end", (0.1, -0.12, -1.0), subject=ALL),
        View("other-end", "from the non-drive-end corner", (0.2, -0.5, 0.85), subject=(((-0.13, -0.1, -0.2), (0.1, 0.1, 0.22)),)),
        View(
            "starter",
            "close to the starter",
            (0.0, 0.0, -1.0),
            subject=(((-0.528, -0.09, 0.05), (-0.1, 0.312, 0.12)),),
            letters=STARTER_LETTERS,
        ),
    )
    caution = (
        "Isolate, lock off and prove dead before you touch a starter. For star-delta the links come out of the motor and six leads go back "
        "to the starter; links left in are a short circuit. Star and delta contactors are interlocked, never both closed. The panel shows "
        "the main circuit only: isolator, fuses, overload relay, earth and control circuit belong to every starter. Inverter capacitors "
        "stay charged for minutes. Rotor resistors and rotors run hot: keep to the maker's starts per hour. Fit the guards, check the "
        "direction uncoupled, and leave the work to licensed people under your local code."
    )
    leaves_out = (
        "Speed is worked out quasi-steadily: at each speed the motor has the torque and current it would have running steadily there.",
        "The soft starter acts by the fundamental of its voltage alone; the chopped wave adds heat and harmonics.",
        "The inverter's line current is taken as sinusoidal and in phase with the voltage; its harmonics and losses are left out.",
        "Magnetising current of the starting transformer, iron loss, saturation and torque dips by harmonics are left out.",
        "The wound-rotor motor has the cage motor's stator and runs at its slip; slip rings and brushes have no resistance.",
    )
    narration = "One motor, one load, six methods of starting. Watch the current, the time it takes, and whether it starts at all."

    def __init__(self, may_wait: bool = True):
        self.starts = StartTable()
        self._quiet = 0  # pictures since the last change
        super().__init__(may_wait)

    def advance(self, setup: Setup, state: Begun, seconds: float) -> Begun:
        return advance(setup, state, seconds, self._chosen(setup))

    def observe(self, setup: Setup, state: Begun) -> Snapshot:
        chosen = self._chosen(setup)
        known = {name: self.starts.known(setup.case_by(name)) for name in METHODS}
        return observe(setup, state, chosen, {name: None if each is None else each.start for name, each in known.items()})

    def _chosen(self, setup: Setup) -> WorkedOut | None:
        """What comes of the chosen start; where pictures may not wait for it, None until it has been worked out beside them."""
        if self.may_wait:
            return self.starts.at_once(setup.case)
        self.starts.ask_for(setup.case)
        return self.starts.known(setup.case)

    def shown_whole(self, passed: float) -> bool:
        return self.now.worked_out is not None and self.state.time >= float(self.now.worked_out.shown.time[-1])

    def question_of(self, now: Snapshot, look: Look) -> Question:
        return QuestionOfAStart(now.case, self.starts)

    def changed(self, name: str) -> None:
        super().changed(name)
        self._quiet = 0
        if name not in ONLY_LOOKS:
            self.restart()

    def draw(self, reveals_answer: bool = True, mistake: str = "") -> None:
        if self.starts.collect():
            self._now = None
        self._fill_in()
        super().draw(reveals_answer, mistake)

    @property
    def unfinished(self) -> bool:
        return bool(self._missing)

    @property
    def _missing(self) -> list[str]:
        """The rows of the table that are not worked out yet."""
        return [name for name in METHODS if self.now.others[name] is None]

    def _fill_in(self) -> None:
        """Have one missing row of the table worked out now and then, once the settings have come to rest."""
        self._quiet += 1
        missing = self._missing
        if missing and self._quiet > QUIET_PICTURES and not self.starts.busy:
            self._quiet = QUIET_PICTURES // 2
            (self.starts.at_once if self.may_wait else self.starts.ask_for)(self.setup.case_by(missing[0]))
            self._now = None

    def plot(self, reveals_answer: bool = True) -> Plot | None:
        look = Look(self.eye, reveals_answer)
        return self.kept((self.setup, look, self.now.start is None), lambda: self.plot_of(self.now, look))
