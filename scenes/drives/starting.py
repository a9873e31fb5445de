"""Starting: one motor and one load, started in six ways; what that does to the line, the time and the rotor."""

from __future__ import annotations

import math
from concurrent.futures import Future, ThreadPoolExecutor
from dataclasses import dataclass

import numpy as np

from physics.induction import EquivalentCircuit
from physics.shaft.loads import REST_SPEED, Conveyor, Fan, Flywheel, Friction, Pump, Shaft
from physics.starting import starts
from scenes.drives.shown_start import ShownStart, shown_start
from scenes.drives.starters import IN_A_SENTENCE, IN_THE_PICTURE, RISES, WORDS, closed_contactors, on_a_winding, rotor_steps, starter
from scenes.drives.starting_curves import against_speed, against_time
from scenes.scene import common_controls
from scenes.scene.controls import Choice, Number, slow_motion
from scenes.scene.phases import REGIONS, colours
from scenes.scene.scene import Key, Mark, Plot, Question, Reading, Scene, View, minus
from visual import palette
from visual.apparatus.starter_panel import StarterPanel
from visual.machines import drive
from visual.solid.solids import Group, Solid

# A motor of our own of 11 kW with a deep-bar cage, fitted to an ordinary plate (400 V, 1465 r/min, 21.2 A, cos phi 0.84) with
# 6.3 times starting current, 2.1 times starting and 2.8 times breakdown torque; ohms a phase of the star that draws the same (its windings run in delta), volts, hertz, poles. And
# one with the same stator and a wound rotor, its slip rings shorted, that runs on the same slip.
MOTOR = EquivalentCircuit(0.415, 0.721, 0.5926, 0.721, 24.54, 400.0, 50.0, 4, 0.5011, 2.836)
WOUND = EquivalentCircuit(0.415, 0.721, 0.2715, 1.43, 24.54, 400.0, 50.0, 4)
RATED = MOTOR.at(35 / 1500)
RATED_TORQUE, RATED_CURRENT = float(RATED.torque), float(abs(RATED.stator_current))
SYNCHRONOUS = float(MOTOR.synchronous_speed)
ROTOR_INERTIA = 0.05  # kg m2
BREAKAWAY = 1.3  # of a conveyor's running torque, that it takes to move it from rest
OUTCOMES = (
    ("runs", "it runs up"), ("stays at rest", "it stays at rest"), ("crawls", "it crawls at a low speed"),
)
QUIET_PICTURES = 16  # without a change, before the rest of the table is worked out
MOST_KNOWN = 48  # starts that are kept: each is a hundred kilobytes


@dataclass(frozen=True)
class Moment:
    """One moment of a start: s after switching on, stage by number and name, rev/s, A, N m, V across a winding and its Hz."""

    time: float
    stage: int
    stage_name: str
    speed: float
    line_current: float
    torque: float
    load_torque: float
    winding_voltage: float
    frequency: float


class Starting(Scene):
    name = "starting"
    title = "Starting: current, time and heat"
    principle = "Started direct-on-line, a cage motor draws several times its rated current. Every gentler start costs torque, time or money."
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
        Key("I", "line current, r.m.s., in times rated; pale, the largest of each method; grey, it does not run up", palette.HEX["current"]),
        Key("n", "speed of the motor, as a share of synchronous speed", palette.HEX["motion"]),
    )
    views = (
        View("corner", "from the drive-end corner", (-0.3, -0.16, -0.95), (-0.11, 0.102, 0.05), 0.262),
        View("drive-end", "from the drive end", (-0.04, -0.06, -1.0), (-0.13, 0.1, 0.05), 0.262),
        View("starter", "close to the starter", (0.0, 0.0, -1.0), (-0.318, 0.112, 0.06), 0.21),
    )
    caution = (
        "Isolate, lock off and prove dead before you touch a starter. For star-delta the links come out of the motor and six leads go back to "
        "the starter; links left in are a short circuit. Star and delta contactors are interlocked, never both closed. The panel shows the main "
        "circuit only: isolator, fuses, overload relay, earth and control circuit belong to every starter. Inverter capacitors stay charged "
        "for minutes. Rotor resistors and rotors run hot: keep to the maker's starts per hour. Fit the guards, check the direction uncoupled, "
        "and leave the work to licensed people under your local code."
    )
    leaves_out = (
        "Speed is worked out quasi-steadily: at each speed the motor has the torque and current it would have running steadily there.",
        "The soft starter acts by the fundamental of its voltage alone; the chopped wave adds heat and harmonics.",
        "The inverter's line current is taken as sinusoidal and in phase with the voltage; its harmonics and losses are left out.",
        "Magnetising current of the starting transformer, iron loss, saturation and torque dips by harmonics are left out.",
        "With its slip rings shorted the wound-rotor motor has the same circuit as the cage motor; slip rings and brushes have no resistance.",
    )
    narration = "One motor, one load, six methods of starting. Watch the current, the time it takes, and whether it starts at all."

    def __init__(self):
        self._known: dict[tuple, starts.Start] = {}
        self._shown: tuple[tuple, ShownStart] | None = None
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
            "conveyor": lambda: Conveyor(inertia, Friction(torque, BREAKAWAY * torque)),
            "flywheel": lambda: Flywheel(inertia),
        }[self["drive"]]()
        return Shaft(ROTOR_INERTIA, load)

    def method(self, name: str):
        return starter(name, self.motor(name), self["tap"] / 100, self["ramp"])

    @staticmethod
    def motor(name: str) -> EquivalentCircuit:
        """The motor that is started by that method: resistors need a wound rotor."""
        return WOUND if name == "wound-rotor" else MOTOR

    def _key(self, name: str) -> tuple:
        """What the start by that method depends on."""
        setting = {"autotransformer": self["tap"], "inverter": self["ramp"]}.get(name)
        return name, self["drive"], self["load"], self["inertia"], setting

    def start_by(self, name: str) -> starts.Start:
        """What comes of that method with the present load; worked out once."""
        key = self._key(name)
        if key not in self._known:
            self._remember(key, starts.start(self.motor(name), self.shaft, self.method(name)))
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
        if name not in ("slow", "curves", "colours"):
            self.restart()

    def restart(self) -> None:
        self.time = 0.0
        self.angle = 0.0

    def step(self, seconds: float) -> None:
        speed = self.now().speed
        self.time += seconds
        self.angle -= 2 * math.pi * speed * seconds  # U-V-W on L1-L2-L3: clockwise seen from the drive end

    @property
    def shown(self) -> ShownStart:
        """The chosen start as it is shown; worked out once."""
        key = self._key(self["method"])
        if self._shown is None or self._shown[0] != key:
            self._shown = key, shown_start(self.chosen, self.motor(self["method"]), self.shaft, self.method(self["method"]), self.torque_to_move)
        return self._shown[1]

    def now(self) -> Moment:
        """This moment of the start; held at the last when it is over."""
        shown, stages, motor = self.shown, self.chosen.run_up.stages, self.motor(self["method"])
        at = min(self.time, float(shown.time[-1]))
        stage = int(shown.stage[max(0, int(np.searchsorted(shown.time, at, side="right")) - 1)])
        value = {name: float(np.interp(at, shown.time, getattr(shown, name))) for name in ("speed", "line_current", "torque", "load_torque")}
        began = float(shown.time[int(np.argmax(shown.stage == stage))])
        voltage, frequency = on_a_winding(self.method(self["method"]).stages(motor)[stage], at - began, motor)
        return Moment(at, stage, stages[stage], winding_voltage=voltage, frequency=frequency, **value)

    @property
    def torque_to_move(self) -> float:
        """N m that the load takes to be moved from rest."""
        return float(self.shaft.torque(REST_SPEED))

    # what is drawn

    def build(self, host) -> None:
        group = self.drawn = Group()
        machine = self.machine = group.add(Group())
        machine.add(Solid(drive.motor_frame())).put((0, 0, 0))
        self.turning = drive.TurningShaft(machine)
        self.still = {"pump": machine.add(Solid(drive.pump_casing())), "conveyor": machine.add(Solid(drive.belt()))}
        for solid in self.still.values():
            solid.put((0, 0, 0))
        self.panel = StarterPanel(group, (-0.33, 0.09, 0.06), MOTOR.line_voltage, len(rotor_steps(WOUND).resistances), drive.GLAND)
        self.currents = drive.Bars(
            machine, list(IN_THE_PICTURE.values()), "I", palette.CURRENT, (0.09, 0.285, -0.08), 0.2, 8.0, {1.0: "1 × rated", 4.0: "4 ×", 8.0: "8 ×"})
        self.speed_bar = drive.Bars(machine, ["speed"], "n", palette.MOTION, (0.09, 0.092, -0.08), 0.2, 1.0, {0.5: "½", 1.0: "nₛ"})
        for name, drawn in (("shaft", self.turning.shaft), ("current", self.currents.bar), ("speed", self.speed_bar.bar)):
            host.name(f"starting-{name}", drawn.drawn)
        for name, bar in zip(WORDS, self.currents.largest):
            host.name(f"starting-largest-{name}", bar.drawn)
        for name, wheel in self.turning.wheels.items():
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
            work = self._beside.submit(starts.start, self.motor(missing[0]), self.shaft, self.method(missing[0]))
            self._coming = self._key(missing[0]), work

    def draw(self) -> None:
        self._fill_in()
        now = self.now()
        self.machine.visible = self.view != "starter"  # seen from near, the starter alone
        self.turning.put(self["drive"], self.angle)
        for name, solid in self.still.items():
            solid.visible = self.machine.visible and name == self["drive"]
        self._draw_bars(now)
        self.panel.paint(REGIONS[self["colours"]].colours)
        self.panel.show(
            self["method"], now.stage_name, closed_contactors(self["method"], now.stage), self["tap"] / 100, self.view == "starter")

    def _draw_bars(self, now: Moment) -> None:
        shown = self.answers_shown
        known = [self._known.get(self._key(name)) if shown else None for name in WORDS]
        self.currents.show(
            [start and start.largest_line_current / RATED_CURRENT for start in known], [start is not None and not start.starts for start in known],
            list(WORDS).index(self["method"]), now.line_current / RATED_CURRENT if shown else 0.0)
        self.speed_bar.show([None], [False], 0, now.speed / SYNCHRONOUS if shown else 0.0)

    def plot(self) -> Plot:
        key = (*(self[name] for name in ("method", "drive", "load", "inertia", "tap", "ramp", "curves")), self.answers_shown)
        return self.kept(key, self._curves)

    def _curves(self) -> Plot:
        """Against time or speed; no lines while a question waits."""
        if self["curves"] == "time":
            lines = against_time(self.shown, self.torque_to_move if self.chosen.outcome == starts.STAYS_AT_REST else None, RATED_CURRENT, RATED_TORQUE, SYNCHRONOUS)
            return Plot("time", "s", "times rated", "", lines if self.answers_shown else ())
        lines = against_speed(self.chosen, self.shaft, self.method(self["method"]), self.motor(self["method"]), RATED_TORQUE)
        return Plot("speed, of synchronous", "", "torque, times rated", "", lines if self.answers_shown else ())

    def marks(self) -> list[Mark]:
        now = self.now()
        if not self.answers_shown:
            return []
        if self["curves"] == "time":
            return [Mark("now", palette.HEX["field"], now.time, math.nan)]
        return [Mark("motor now", palette.HEX["field"], now.speed / SYNCHRONOUS, now.torque / RATED_TORQUE)]

    # what is read and asked

    def readings(self) -> list[Reading]:
        now, start = self.now(), self.chosen
        current = now.line_current
        readings = [
            Reading("I", "line current", minus(current, 1), "A",
                    f"I / rated current = {current:.1f} A / {RATED_CURRENT:.1f} A = {current / RATED_CURRENT:.2f}", tells=True),
            Reading("n", "speed", minus(60 * now.speed, 0), "r/min", f"{now.stage_name}, {now.time:.2f} s after switching on", tells=True),
            self._winding_voltage(now),
            Reading("T", "motor torque", minus(now.torque, 1), "N m", self._torques(now), tells=True),
            Reading("", "result", start.outcome, "", f"It {start.sentence}.", tells=True),
            Reading("Iₘₐₓ", "largest line current, r.m.s.", minus(start.largest_line_current, 0), "A",
                    f"{start.largest_line_current / RATED_CURRENT:.1f} times rated; momentary peak {self._peak(start)}", tells=True),
            self._heat(start),
        ]
        motor = self.motor(self["method"])
        at_rest = motor.at(1.0)
        readings.append(Reading(
            "", "the motor: of 11 kW, with " + ("a wound rotor" if motor is WOUND else "a deep-bar cage"), "11", "kW",
            f"{motor.line_voltage:g} V, {motor.frequency:g} Hz, {motor.poles} poles; at standstill {abs(at_rest.stator_current) / RATED_CURRENT:.1f} times rated "
            f"current and {at_rest.torque / RATED_TORQUE:.1f} times rated torque direct on line: usual values, assumed", tells=True))
        return readings + [self._row(name) for name in WORDS]

    def _torques(self, now: Moment) -> str:
        if self.chosen.outcome == starts.STAYS_AT_REST:
            return f"it would take {self.torque_to_move:.1f} N m to move the load"
        return f"the load takes {now.load_torque:.1f} N m"

    def _winding_voltage(self, now: Moment) -> Reading:
        """What the supply has put across each winding, and how that comes of the voltage between lines."""
        line = MOTOR.line_voltage
        if not now.winding_voltage:
            formula = "off the supply while the contactors change over"
        elif self["method"] == "star-delta" and now.stage == 0:
            formula = f"U / √3 = {line:.0f} V / √3"
        else:
            formula = f"in delta: {100 * now.winding_voltage / line:.0f} % of the {line:.0f} V between lines, at {now.frequency:.1f} Hz"
        return Reading("U", "voltage across each winding", minus(now.winding_voltage, 0), "V", formula)

    @staticmethod
    def _peak(start: starts.Start) -> str:
        """The highest momentary current: of the wave itself, or above it for where in the wave one switches."""
        crest = math.sqrt(2) * start.largest_line_current
        if start.peak_line_current <= crest * 1.001:
            return f"{start.peak_line_current:.0f} A, the peak of the wave"
        return f"up to {start.peak_line_current:.0f} A if switched at the worst instant"

    @staticmethod
    def _heat(start: starts.Start) -> Reading:
        if not start.starts:
            return Reading("P", "heat in the windings, going on", minus(start.settled_heating / 1000, 1), "kW",
                           "in stator and rotor together, until something trips or burns", tells=True)
        outside = f"and {start.resistor_heat / 1000:.1f} kJ in the resistors outside" if start.resistor_heat > 1 else "all of it inside the motor"
        return Reading("W", "heat in the rotor", minus(start.rotor_heat / 1000, 1), "kJ", outside, tells=True)

    def _row(self, name: str) -> Reading:
        """One method of the table side by side: largest current, time, heat in the rotor; dots while it is worked out."""
        start = self._known.get(self._key(name))
        if start is None:
            return Reading("", WORDS[name], "…", "", tells=True)
        if not start.starts:
            return Reading("", WORDS[name], start.outcome, "", f"on {start.settled_line_current / RATED_CURRENT:.1f} times rated current", tells=True)
        return Reading(
            "", WORDS[name], f"{start.largest_line_current / RATED_CURRENT:.1f}", "× rated",
            f"largest line current; up to speed in {start.time:.1f} s, {start.rotor_heat / 1000:.1f} kJ in the rotor", tells=True,
        )

    def says(self) -> str:
        return f"Driving the {self['drive']} and started {IN_A_SENTENCE[self['method']]}, the motor {self.chosen.sentence}."

    def question(self) -> Question:
        start = self.chosen
        answer = start.outcome if start.outcome in dict(OUTCOMES) else "runs"
        reason = (
            f"At standstill it has {start.starting_torque:.0f} N m and draws {start.starting_line_current / RATED_CURRENT:.1f} times its rated "
            f"current from the line; the load takes {self.torque_to_move:.0f} N m to move and {self.shaft.torque(SYNCHRONOUS):.0f} N m at full speed. "
            + (f"As the {RISES[self['method']]} rises it comes to {start.run_up.torque.max():.0f} N m. " if self["method"] in RISES else "")
            + f"It {start.sentence}."
        )
        return Question(f"The {self['drive']}, {self._loaded()}, is started {IN_A_SENTENCE[self['method']]}{self._tapped()}. {self._given()} "
                        "Does the motor run up?", OUTCOMES, answer, reason)

    def _loaded(self) -> str:
        running = f"which takes {self['load']:.0f} % of rated torque at full speed"
        return {
            "flywheel": "which takes no torque but is heavy",
            "conveyor": f"which takes {self['load']:.0f} % of rated torque to run and {100 * (BREAKAWAY - 1):.0f} % more than that to move from rest",
        }.get(self["drive"], running)

    def _tapped(self) -> str:
        return f" on its {self['tap']:g} % tap" if self["method"] == "autotransformer" else ""

    def _given(self) -> str:
        """What one has to know of the motor, on full voltage, to answer."""
        motor = self.motor(self["method"])
        share, most = float(motor.at(1.0).torque) / RATED_TORQUE, motor.breakdown()[1] / RATED_TORQUE
        return f"On full voltage the motor has {100 * share:.0f} % of rated torque at standstill and {100 * most:.0f} % at breakdown."

    def random_setup(self, random) -> dict:
        return {
            "method": random.choice(list(WORDS)),
            "drive": random.choice(("fan", "pump", "conveyor", "conveyor", "flywheel")),
            "load": float(random.choice((40, 80, 120, 200))),
            "inertia": float(random.choice((5, 10, 20))),
            "tap": float(random.choice((50, 65))),
        }
