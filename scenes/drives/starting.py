"""Starting: one motor and one load, started in six ways; what that does to the line, the time and the rotor."""

from __future__ import annotations

import math
from concurrent.futures import Future, ThreadPoolExecutor

import numpy as np

from physics.induction import EquivalentCircuit
from physics.shaft.loads import Conveyor, Fan, Flywheel, Friction, Pump, Shaft
from physics.starting import starts
from physics.starting.methods import Autotransformer, DirectOnLine, InverterRamp, StarDelta, standard_methods
from scenes.scene import common_controls
from scenes.scene.controls import Choice, Number, slow_motion
from scenes.scene.scene import Key, Line, Mark, Plot, Question, Reading, Scene, View, minus
from visual import palette
from visual.machines import drive
from visual.solid.solids import Group, Letters, Solid

# A motor of our own of about 10 kW: ohms a phase, star, volts, hertz, poles.
MOTOR = EquivalentCircuit(0.45, 1.0, 0.38, 1.15, 32.0, 400.0, 50.0, 4)
RATED = MOTOR.at(0.03)
RATED_TORQUE, RATED_CURRENT = float(RATED.torque), float(abs(RATED.stator_current))
SYNCHRONOUS = float(MOTOR.synchronous_speed)
ROTOR_INERTIA = 0.05  # kg m2
_ANY = {method.name: method for method in standard_methods(MOTOR)}
METHODS = {
    "direct": "direct on line",
    "star-delta": "star-delta",
    "autotransformer": "autotransformer",
    "soft-starter": "soft starter",
    "inverter": "inverter ramp",
    "wound-rotor": "rotor resistance",
}
WORDS = {
    "direct": "direct on line", "star-delta": "star-delta", "autotransformer": "reduced voltage, by a tap",
    "soft-starter": "reduced voltage, rising", "inverter": "inverter", "wound-rotor": "wound rotor, resistance in steps",
}
IN_A_SENTENCE = {
    "direct": "direct on line", "star-delta": "in star-delta", "autotransformer": "on reduced voltage from a tap",
    "soft-starter": "on a voltage that rises", "inverter": "on an inverter", "wound-rotor": "with resistance in the rotor, in steps",
}
IN_THE_PICTURE = {
    "direct": "direct", "star-delta": "star-delta", "autotransformer": "by a tap",
    "soft-starter": "rising voltage", "inverter": "inverter", "wound-rotor": "wound rotor",
}
RISES = {"inverter": "frequency", "soft-starter": "voltage"}
OUTCOMES = (
    ("runs", "it runs up"), ("stays at rest", "it stays at rest"), ("crawls", "it hangs at a low speed"),
)
POINTS = 140  # of each curve
QUIET_PICTURES = 16  # without a change, before the rest of the table is worked out
STANDS_FOR = 5.0  # s that a start is shown for which comes to nothing
MOST_KNOWN = 48  # starts that are kept: each is a hundred kilobytes


class Starting(Scene):
    name = "starting"
    title = "Starting: current, time and heat"
    principle = "Started direct, a cage motor draws several times its rated current; every gentler way costs torque, time or money."
    controls = (
        Choice("method", "Started", "direct", tuple(WORDS.items())),
        Choice("drive", "What it drives", "fan", (("fan", "fan"), ("pump", "pump"), ("conveyor", "conveyor"), ("flywheel", "flywheel"))),
        common_controls.load(80.0),
        Number("inertia", "Inertia of the load", 10.0, "times the rotor's", 1.0, 50.0, 1.0),
        Number("tap", "Voltage on the tap", 65.0, "%", 30.0, 90.0, 5.0, only_with=("method", "autotransformer")),
        Number("ramp", "Time of the ramp", 5.0, "s", 1.0, 20.0, 0.5, only_with=("method", "inverter")),
        slow_motion("1"),
    )
    arrows = (
        Key("I", "current drawn from a line, r.m.s., in times the rated; pale the largest of each way to start, 1 to 6", palette.HEX["current"]),
        Key("n", "speed, of the synchronous", palette.HEX["motion"]),
    )
    views = (
        View("corner", "from the drive-end corner", (-0.42, -0.26, -0.95), (0.104, 0.018, 0.05), 0.232),
        View("drive-end", "from the drive end", (-0.1, -0.1, -1.0), (0.065, 0.0, 0.05), 0.235),
        View("other-end", "from the other end", (0.35, -0.25, 1.0), (0.06, 0.0, 0.05), 0.23),
    )
    caution = (
        "Isolate, lock off and prove dead before you touch a starter. An inverter's capacitors stay charged for minutes. Each start heats "
        "the rotor: keep to the number of starts an hour that the maker allows. Rotor resistors and rotors are hot. Fit the guards, try the "
        "direction uncoupled, and leave the work to licensed people under your local code."
    )
    narration = "One motor, one load, six ways to start. Watch the current, the time it takes, and whether it starts at all."

    def __init__(self):
        self._known: dict[tuple, starts.Start] = {}
        self._quiet = 0
        self._beside = ThreadPoolExecutor(1, "starts")
        self._coming: tuple[tuple, Future] | None = None  # a start that is being worked out beside the pictures
        super().__init__()

    # the physics of this start

    @property
    def shaft(self) -> Shaft:
        torque, inertia = RATED_TORQUE * self["load"] / 100, ROTOR_INERTIA * self["inertia"]
        load = {
            "fan": lambda: Fan(SYNCHRONOUS, torque, inertia),
            "pump": lambda: Pump(SYNCHRONOUS, torque, inertia),
            "conveyor": lambda: Conveyor(inertia, Friction(torque, 1.3 * torque)),
            "flywheel": lambda: Flywheel(inertia),
        }[self["drive"]]()
        return Shaft(ROTOR_INERTIA, load)

    def method(self, name: str):
        if name == "autotransformer":
            return Autotransformer(self["tap"] / 100)
        if name == "inverter":
            return InverterRamp(self["ramp"], _ANY["inverter ramp"].boost)
        return {"direct": DirectOnLine(), "star-delta": StarDelta()}.get(name) or _ANY[METHODS[name]]

    def _key(self, name: str) -> tuple:
        """What the start by that method depends on."""
        setting = {"autotransformer": self["tap"], "inverter": self["ramp"]}.get(name)
        return name, self["drive"], self["load"], self["inertia"], setting

    def start_by(self, name: str) -> starts.Start:
        """What comes of that method with the present load; worked out once."""
        key = self._key(name)
        if key not in self._known:
            self._remember(key, starts.start(MOTOR, self.shaft, self.method(name)))
        return self._known[key]

    def _remember(self, key: tuple, start: starts.Start) -> None:
        if len(self._known) >= MOST_KNOWN:
            del self._known[next(iter(self._known))]
        self._known[key] = start

    @property
    def chosen(self) -> starts.Start:
        return self.start_by(self["method"])

    def changed(self, name: str) -> None:
        self._quiet = 0
        if name != "slow":
            self.restart()

    def restart(self) -> None:
        self.time = 0.0
        self.angle = 0.0

    def step(self, seconds: float) -> None:
        speed = self.now()["speed"]
        self.time += seconds
        self.angle -= 2 * math.pi * speed * seconds  # U-V-W on L1-L2-L3: clockwise seen from the drive end

    def now(self) -> dict:
        """Speed, rev/s, line current, A, torque, N m, and the stage at this moment; held at the last when it is over."""
        run = self.chosen.run_up
        at = min(self.time, self.shown_until)
        stage = run.stages[run.stage[max(0, int(np.searchsorted(run.time, at, side="right")) - 1)]]
        value = {name: float(np.interp(at, run.time, getattr(run, name))) for name in ("speed", "line_current", "torque", "load_torque")}
        if self.chosen.outcome == "stays at rest":
            value["speed"] = 0.0  # the run-up creeps where it stands: see physics.shaft.loads
        return value | {"time": at, "stage": stage}

    @property
    def shown_until(self) -> float:
        """Seconds after switching on at which nothing changes any more."""
        end = float(self.chosen.run_up.time[-1])
        return end if self.chosen.starts else max(end, STANDS_FOR)

    # what is drawn

    def build(self, host) -> None:
        group = self.drawn = Group()
        group.add(Solid(drive.motor_frame())).put((0, 0, 0))
        self.shaft_drawn = group.add(Solid(drive.shaft_with_coupling()))
        self.wheels = {"fan": drive.fan_wheel, "pump": drive.pump_wheel, "conveyor": drive.belt_drum, "flywheel": drive.flywheel}
        self.wheels = {name: group.add(Solid(shape())) for name, shape in self.wheels.items()}
        self.still = {"pump": group.add(Solid(drive.pump_casing())), "conveyor": group.add(Solid(drive.belt()))}
        for solid in self.still.values():
            solid.put((0, 0, 0))
        self.board = drive.TerminalBoard(group, (-0.25, 0.02, 0.02), 0.16)
        self.stage = group.add(Letters("", palette.PAPER, 20, ground=palette.SLATE))
        self.stage.put((0.09, -0.155, 0.06))
        self.resistors = drive.ResistorSteps(group, (-0.27, -0.12, 0.1), len(_ANY["rotor resistance"].resistances))
        self.currents = drive.ColumnsBesideEachOther(
            group, len(WORDS), "I", palette.CURRENT, (0.2, -0.055, -0.08), 0.19, 8.0, {1.0: "1 × rated", 4.0: "4 ×", 8.0: "8 ×"})
        self.speed_column = drive.Column(group, "n", palette.MOTION, (0.408, -0.055, -0.08), 0.19, 1.0, {0.5: "1/2", 1.0: "nₛ"})
        for name, drawn in (("shaft", self.shaft_drawn), ("current", self.currents.bar), ("speed", self.speed_column.bar), ("star", self.board.star)):
            host.name(f"starting-{name}", drawn.drawn)
        for name, bar in zip(WORDS, self.currents.largest):
            host.name(f"starting-largest-{name}", bar.drawn)
        for name, wheel in self.wheels.items():
            host.name(f"starting-{name}", wheel.drawn)

    def _fill_in(self) -> None:
        """Have one missing row of the table worked out now and then, once the settings have come to rest. Each takes as long
        as many pictures, so it is done beside them."""
        self._quiet += 1
        if self._coming is not None:
            key, start = self._coming
            if not start.done():
                return
            self._coming = None
            self._remember(key, start.result())
        missing = [name for name in WORDS if self._key(name) not in self._known]
        if missing and self._quiet > QUIET_PICTURES:
            self._quiet = QUIET_PICTURES // 2
            work = self._beside.submit(starts.start, MOTOR, self.shaft, self.method(missing[0]))
            self._coming = self._key(missing[0]), work

    def draw(self) -> None:
        self._fill_in()
        now = self.now()
        turn = np.array([[np.cos(self.angle), -np.sin(self.angle), 0], [np.sin(self.angle), np.cos(self.angle), 0], [0, 0, 1.0]])
        self.shaft_drawn.put((0, 0, 0), turn)
        for name, wheel in self.wheels.items():
            wheel.visible = name == self["drive"]
            wheel.put((0, 0, 0), turn)
        for name, solid in self.still.items():
            solid.visible = name == self["drive"]
        shown = self.answers_shown
        known = [self._known.get(self._key(name)) if shown else None for name in WORDS]
        self.currents.show(
            [start and start.largest_line_current / RATED_CURRENT for start in known], [start is not None and not start.starts for start in known],
            list(WORDS).index(self["method"]), now["line_current"] / RATED_CURRENT if shown else 0.0)
        self.currents.heading.text = f"{list(WORDS).index(self['method']) + 1}  {IN_THE_PICTURE[self['method']]}"
        self.speed_column.show(now["speed"] / SYNCHRONOUS if shown else 0.0)
        self.board.join(now["stage"] if self["method"] == "star-delta" else "delta")
        self.stage.text = now["stage"]
        steps = [stage for stage in self.chosen.run_up.stages if stage != self.chosen.run_up.stages[-1]]
        left = len(steps) - steps.index(now["stage"]) if now["stage"] in steps else 0
        self.resistors.show(left if self["method"] == "wound-rotor" else -1)

    def plot(self) -> Plot:
        key = (self["method"], self["drive"], self["load"], self["inertia"], self["tap"], self["ramp"], self.answers_shown)
        return self.kept(key, self._curves)

    def _curves(self) -> Plot:
        """Current, speed and torques against time; while a question waits, the load's torque against nothing yet."""
        run = self.chosen.run_up
        every = np.unique(np.linspace(0, run.time.size - 1, POINTS).astype(int))
        curves = (
            ("current", palette.HEX["current"], run.line_current / RATED_CURRENT),
            ("speed", palette.HEX["motion"], run.speed / SYNCHRONOUS),
            ("motor torque", palette.HEX["force"], run.torque / RATED_TORQUE),
            ("load torque", "#6b7378", run.load_torque / RATED_TORQUE),
        )
        times = np.append(run.time[every], self.shown_until)
        lines = tuple(Line(name, colour, tuple(zip(times.tolist(), np.append(values[every], values[-1]).tolist()))) for name, colour, values in curves)
        return Plot("time", "s", "of rated", "", lines if self.answers_shown else ())

    def marks(self) -> list[Mark]:
        now = self.now()
        return [Mark("now", palette.HEX["field"], now["time"], math.nan)] if self.answers_shown else []

    # what is read and asked

    def readings(self) -> list[Reading]:
        now, start = self.now(), self.chosen
        current = now["line_current"]
        readings = [
            Reading("I", "current drawn from a line", minus(current, 1), "A",
                    f"I / I_rated = {current:.1f} A / {RATED_CURRENT:.1f} A = {current / RATED_CURRENT:.2f}", tells=True),
            Reading("n", "speed", minus(60 * now["speed"], 0), "r/min", f"{now['stage']}, {now['time']:.2f} s after switching on", tells=True),
            Reading("", "what becomes of it", start.outcome, "", f"It {start.sentence}.", tells=True),
            Reading("Iₘₐₓ", "largest line current, r.m.s.", minus(start.largest_line_current, 0), "A",
                    f"{start.largest_line_current / RATED_CURRENT:.1f} times rated; for a moment {self._peak(start)}", tells=True),
            self._heat(start),
        ]
        return readings + [self._row(str(number), name) for number, name in enumerate(WORDS, 1)]

    @staticmethod
    def _peak(start: starts.Start) -> str:
        """The highest momentary current: of the wave itself, or above it for where in the wave one switches."""
        crest = math.sqrt(2) * start.largest_line_current
        if start.peak_line_current <= crest * 1.001:
            return f"{start.peak_line_current:.0f} A, the crest of the wave"
        return f"up to {start.peak_line_current:.0f} A at the worst switching"

    @staticmethod
    def _heat(start: starts.Start) -> Reading:
        if not start.starts:
            return Reading("P", "heat that goes on in the windings", minus(start.settled_heating / 1000, 1), "kW",
                           "in stator and rotor together, until something trips or burns", tells=True)
        outside = f"and {start.resistor_heat / 1000:.1f} kJ in the resistors outside" if start.resistor_heat > 1 else "all of it inside the motor"
        return Reading("W", "heat in the rotor", minus(start.rotor_heat / 1000, 1), "kJ", outside, tells=True)

    def _row(self, number: str, name: str) -> Reading:
        """One method of the table side by side, under the number of its column: largest current, time, heat in the rotor;
        dots while it is worked out."""
        start = self._known.get(self._key(name))
        if start is None:
            return Reading(number, WORDS[name], "…", "", tells=True)
        if not start.starts:
            return Reading(number, WORDS[name], start.outcome, "", f"with {start.settled_line_current / RATED_CURRENT:.1f} times its rated current", tells=True)
        return Reading(
            number, WORDS[name], f"{start.largest_line_current / RATED_CURRENT:.1f}", "× rated",
            f"largest line current; {start.time:.1f} s, {start.rotor_heat / 1000:.1f} kJ in the rotor", tells=True,
        )

    def says(self) -> str:
        return f"Driving the {self['drive']} and started {IN_A_SENTENCE[self['method']]}, the motor {self.chosen.sentence}."

    def question(self) -> Question:
        start = self.chosen
        needs, full = self.shaft.torque(0.1), self.shaft.torque(SYNCHRONOUS)
        answer = start.outcome if start.outcome in dict(OUTCOMES) else "runs"
        reason = (
            f"At standstill it has {start.starting_torque:.0f} N m and draws {start.starting_line_current / RATED_CURRENT:.1f} times its rated "
            f"current from the line; the load needs {needs:.0f} N m there and {full:.0f} N m at full speed. "
            + (f"As the {RISES[self['method']]} rises it comes to {start.run_up.torque.max():.0f} N m. " if self["method"] in RISES else "")
            + f"It {start.sentence}."
        )
        tap = f" of {self['tap']:g} %" if self["method"] == "autotransformer" else ""
        share = 100 * float(MOTOR.at(1.0).torque) / RATED_TORQUE
        loaded = "free of load but heavy" if self["drive"] == "flywheel" else f"with {self['load']:.0f} % of rated torque"
        return Question(f"The {self['drive']}, {loaded}, is started {IN_A_SENTENCE[self['method']]}{tap}. "
                        f"Direct on line it would have {share:.0f} % of its rated torque at first. What becomes of it?", OUTCOMES, answer, reason)

    def random_setup(self, random) -> dict:
        return {
            "method": random.choice(list(WORDS)),
            "drive": random.choice(("fan", "pump", "conveyor", "conveyor", "flywheel")),
            "load": float(random.choice((40, 80, 120, 150))),
            "inertia": float(random.choice((5, 10, 20))),
            "tap": float(random.choice((50, 65))),
        }
