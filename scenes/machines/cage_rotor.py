"""A turning field drags a cage along: what each bar generates, carries and is pushed with."""

from __future__ import annotations

from functools import cached_property

import numpy as np

from physics.cage import Cage
from physics.cage import motion as cage_motion
from physics.cage.motion import RotorMoment, TurningGapField
from physics.shaft.shafts import DrivenShaft, FreeShaft
from physics.speeds import rotor_frequency, slip, synchronous_speed
from physics.supply.supplies import ThreePhaseSupply
from scenes.machines import demonstration_cage
from scenes.machines.demonstration_cage import BARS, INERTIA, LENGTH, RADIUS, AtTheBar, at_the_pole
from scenes.scene import common_controls
from scenes.scene.controls import Choice, Number, slow_motion
from scenes.scene.scene import Key, Line, Mark, Plot, Question, Reading, View, minus
from scenes.scene.seen_from_an_end import AXIS, SeenFromAnEnd
from visual import palette
from visual.machines.cage_drawn import LONGEST_FORCE
from visual.machines.cage_machine import LONGEST_SPEED, LONGEST_TORQUE, CageMachine, longest_field
from visual.solid.solids import Group

PROOF_SPEED = 0.4  # of synchronous speed, at which the bars are turned the other way past a field that stands
LARGEST_FIELD = 0.8  # T, whose arrow is the longest
LAGGING = "The current of this bar lags so far behind that for the moment it still flows"


class CageRotor(SeenFromAnEnd):
    name = "cage-rotor"
    title = "The field drags the cage along"
    principle = "The field sweeps over the bars and generates currents in them; these are pushed the way the field turns. At the field's own speed nothing is left."
    controls = (
        Choice("rotor", "Rotor", "free", (
            ("free", "free to turn"), ("held", "held still"), ("driven", "driven at a set speed"),
            ("proof", "field stopped, bars turned the other way"),
        )),
        Number("speed", "Driven at", 100.0, "% of synchronous speed", -50.0, 150.0, 5.0, only_with=("rotor", "driven")),
        common_controls.load(50.0, only_with=("rotor", "free")),
        Number("inertia", "Inertia with the load", 1.0, "times the rotor's", 1.0, 10.0, 1.0, only_with=("rotor", "free")),
        Choice("hand", "Hand shown", "right", (
            ("none", "none"), ("right", "right: which way the current"), ("left", "left: which way the push"),
        )),
        Choice("bar", "for the bar", "N", (("N", "at the N pole"), ("S", "at the S pole"))),
        common_controls.line_order(),
        common_controls.poles(),
        common_controls.frequency(),
        Number("field", "Field in the gap, crest", 0.5, "T", 0.1, LARGEST_FIELD, 0.05),
        Choice("broken", "Bars broken", "none", (("none", "none"), ("one", "one"), ("three", "three side by side"))),
        slow_motion("200", ("50", "100", "200", "500", "1000")),
    )
    arrows = (
        Key("B", "field across the gap", palette.HEX["field"]),
        Key("R", "the rotor's own field", palette.HEX["emf"]),
        Key("\N{CIRCLED DOT OPERATOR}", "bar with current toward the drive end; a cross: away", palette.HEX["current"]),
        Key("F", "force on each bar", palette.HEX["force"]),
        Key("T", "torque: all forces together", palette.HEX["force"]),
        Key("n", "speed of the rotor", palette.HEX["motion"]),
        Key("δ", "electrical angle by which R is behind B", palette.HEX["emf"]),
        Key("v", "motion of the bar relative to the field", palette.HEX["motion"]),
    )
    views = (
        View("drive-end", "from the drive end", (-0.2, -0.13, -1.0), (0.028, -0.009, 0.0), 0.112),
        View("other-end", "from the other end", (0.2, -0.13, 1.0), (-0.028, -0.009, 0.0), 0.112),
        View("bars", "along the bars", (-0.8, -0.35, -0.9), (0.022, -0.009, 0.0), 0.112),
    )
    caution = (
        "A motor that is held still draws several times its rated current and burns within seconds; a rotor that is let go starts at once. "
        "Never reach in: isolate, lock off and prove dead first, as your local code and your licence ask."
    )
    narration = (
        "The field turns past the bars of the cage. Currents flow in them, the field pushes them along, and the rotor follows, a little slower."
    )

    def __init__(self):
        self._at_the_bar = None
        super().__init__()

    # the physics of this moment

    @property
    def pole_pairs(self) -> int:
        return int(self["poles"]) // 2

    @cached_property
    def cage(self) -> Cage:
        return demonstration_cage.cage(self["broken"])

    @property
    def sense(self) -> float:
        """+1 where the lines as joined turn the field counter-clockwise seen from the drive end, -1 where clockwise."""
        supply = ThreePhaseSupply(400.0, self["frequency"], tuple(self["lines"].split("-")))
        return -1.0 if supply.sequence == "positive" else 1.0

    @cached_property
    def synchronous(self) -> float:
        """Of the field that these lines make, mechanical rad/s, counter-clockwise positive."""
        return self.sense * 2 * np.pi * float(synchronous_speed(self["frequency"], int(self["poles"])))

    @cached_property
    def turning(self) -> TurningGapField:
        """The field in the gap, which stands still in the proof."""
        return TurningGapField(self["field"], self.pole_pairs, 0.0 if self["rotor"] == "proof" else self.synchronous)

    @cached_property
    def rated_torque(self) -> float:
        return demonstration_cage.rated_torque(self.pole_pairs)

    @property
    def shaft(self) -> FreeShaft | DrivenShaft:
        if self["rotor"] == "free":
            return FreeShaft(INERTIA * self["inertia"], dry_friction=self["load"] / 100 * self.rated_torque)
        share = {"held": 0.0, "driven": self["speed"] / 100, "proof": -PROOF_SPEED}[self["rotor"]]
        return DrivenShaft(share * self.synchronous)

    @cached_property
    def fullest(self) -> tuple[float, float]:
        """Current, A, and force, N, that are drawn as large as can be."""
        return demonstration_cage.fullest(self["field"], self.pole_pairs, self.synchronous)

    @cached_property
    def curve(self) -> tuple[np.ndarray, np.ndarray]:
        """Speeds as shares of the synchronous one, and the torque with the field, N m."""
        return demonstration_cage.torque_curve(self["broken"], self["field"], self.pole_pairs, self.synchronous)

    @property
    def greatest_torque(self) -> float:
        """N m, of the curve."""
        return float(np.abs(self.curve[1]).max())

    def changed(self, name: str) -> None:
        self._at_the_bar = None
        self.forget("cage", "synchronous", "turning", "rated_torque", "fullest", "curve")
        if name in ("rotor", "speed", "lines", "poles", "frequency") and self["rotor"] != "free":
            self.moment = RotorMoment(self.moment.field_angle, self.moment.rotor_angle, self.shaft.speed)

    def restart(self) -> None:
        """The field's crest upward; a free rotor at rest."""
        self.moment = RotorMoment(np.pi / 2, np.pi / 2, 0.0 if self["rotor"] == "free" else self.shaft.speed)

    def step(self, seconds: float) -> None:
        self.moment = cage_motion.move_on(self.cage, self.turning, self.moment, self.shaft, seconds)

    def at_the_bar(self) -> AtTheBar:
        """The bars at this moment, and the chosen one, worked out once a moment."""
        if self._at_the_bar is None or self._at_the_bar.moment is not self.moment:
            self._at_the_bar = at_the_pole(self.cage, self.turning, self.moment, self["bar"])
        return self._at_the_bar

    def slip(self) -> float:
        return float(slip(self.synchronous, self.moment.rotor_speed)) if self["rotor"] != "proof" else PROOF_SPEED

    # what is drawn

    def build(self, host) -> None:
        self.drawn = Group()
        machine = self.machine = self.drawn.add(CageMachine(BARS, common_controls.POLES))
        for poles in common_controls.POLES:
            host.name(f"cage-poles-{poles}", machine.poles[poles].solid.drawn)
            host.name(f"cage-field-{poles}", machine.fields[poles].arrows[0].shaft.drawn)
        for name, solid in (("reaction", machine.reaction.shaft), ("torque", machine.torque.shaft), ("speed", machine.speed.shaft),
                            ("rotor", machine.rotor.core), ("right-hand", machine.hands["right"].solid), ("left-hand", machine.hands["left"].solid)):
            host.name(f"cage-{name}", solid.drawn)
        for kind, solids in (("bar", machine.rotor.bars), ("mark", [mark.solid for mark in machine.rotor.marks]), ("force", machine.rotor.forces)):
            for number, solid in enumerate(solids):
                host.name(f"cage-{kind}-{number}", solid.drawn)

    def draw(self) -> None:
        at, shown, side, machine = self.at_the_bar(), self.answers_shown, self.side, self.machine
        state, crest = at.state, self.moment.field_angle
        current, force = self.fullest if shown else (np.inf, np.inf)
        machine.rotor.put(self.moment.rotor_angle, state.current / current, state.force / force, self.cage.missing,
                          at.number if self["hand"] != "none" else None, side)
        machine.show_field(int(self["poles"]), crest, self["field"] / LARGEST_FIELD, side)
        reaction = min(state.reaction_mmf / (current * BARS / (2 * np.pi * self.pole_pairs)), 1.0)
        machine.show_reaction(self.pole_pairs, crest, state.lag, reaction if reaction > 0.02 else 0.0, side)
        machine.show_shaft(state.torque / self.greatest_torque if shown else 0.0, self.moment.rotor_speed / abs(self.synchronous), side)
        seen = shown and self["hand"] != "none" and abs(state.emf[at.number]) > 1e-9
        machine.show_hand(at.hand(self["hand"]) if seen else None, side)

    def plot(self) -> Plot | None:
        if not self.answers_shown:
            return None
        key = tuple(self[name] for name in ("poles", "frequency", "field", "broken", "lines", "rotor", "load"))
        return self.kept(key, self._curves)

    def _curves(self) -> Plot:
        """The torque of the bars at any speed, and the load."""
        shares, torque = self.curve
        speeds = shares * abs(self.synchronous) * 30 / np.pi
        lines = [Line("torque of the bars", palette.HEX["force"], tuple(zip(speeds.tolist(), torque.tolist())))]
        if self["rotor"] == "free" and self["load"]:
            load = self["load"] / 100 * self.rated_torque
            lines.append(Line("load", palette.HEX["current"], ((0.0, load), (float(speeds[-1]), load))))
        return Plot("speed with the field", "r/min", "torque with the field", "N m", tuple(lines))

    def marks(self) -> list[Mark]:
        if not self.answers_shown:
            return []
        speed = (1 - self.slip()) * abs(self.synchronous) * 30 / np.pi
        name = "the same slip" if self["rotor"] == "proof" else "rotor"
        return [Mark(name, palette.HEX["motion"], speed, self.sense * self.at_the_bar().state.torque)]

    # what is read and asked

    def readings(self) -> list[Reading]:
        at = self.at_the_bar()
        state, k = at.state, at.number
        in_rpm = 30 / np.pi
        field_rpm, rotor_rpm = self.turning.speed * self.sense * in_rpm, self.moment.rotor_speed * self.sense * in_rpm
        synchronous_rpm = abs(self.synchronous) * in_rpm
        slipping = self.slip()
        forces = float(np.sum(state.force))
        pulls = self.seen(state.torque)
        return [
            Reading("", f"the bars push the rotor, seen from {self.end}", pulls if pulls != "none" else "not at all", "", tells=True),
            Reading("n\N{LATIN SUBSCRIPT SMALL LETTER S}", "speed of the field", minus(field_rpm, 0), "r/min",
                    f"nₛ = 120 f / poles = 120 × {self['frequency']:g} Hz / {self['poles']} = {synchronous_rpm:.0f} r/min"
                    if self["rotor"] != "proof" else "the field is stopped"),
            Reading("n", "speed of the rotor, with the field positive", minus(rotor_rpm, 0), "r/min",
                    f"seen from {self.end} it turns {self.seen(self.moment.rotor_speed)}" if abs(rotor_rpm) > 0.5 else "it stands"),
            Reading("s", "slip", minus(100 * slipping, 1), "%",
                    f"s = (nₛ − n) / nₛ = ({synchronous_rpm:.0f} − {minus(rotor_rpm, 0)}) / {synchronous_rpm:.0f}" if self["rotor"] != "proof"
                    else "as the bars would have it if they stood and the field turned past them at this speed"),
            Reading("f\N{LATIN SUBSCRIPT SMALL LETTER R}", "frequency in the rotor", f"{float(rotor_frequency(self['frequency'], slipping)):.1f}", "Hz",
                    f"fᵣ = s f = {abs(slipping):.3f} × {self['frequency']:g} Hz"),
            Reading("E", f"EMF of bar {k + 1}, toward the drive end positive", minus(1000 * state.emf[k], 1), "mV",
                    f"E = B l v = {np.linalg.norm(at.field):.3f} T × {LENGTH:.3f} m × {np.linalg.norm(at.motion):.2f} m/s", tells=True),
            Reading("I", f"current of bar {k + 1}", minus(state.current[k], 0), "A", "the cage's network at slip frequency", tells=True),
            Reading("F", f"force on bar {k + 1}, with the field positive", minus(self.sense * state.force[k], 2), "N",
                    f"F = B I l = {np.linalg.norm(at.field):.3f} T × {abs(state.current[k]):.0f} A × {LENGTH:.3f} m", tells=True),
            Reading("T", "torque on the rotor, with the field positive", minus(self.sense * state.torque, 2), "N m",
                    f"T = Σ F r = {minus(self.sense * forces, 1)} N × {RADIUS:.3f} m", tells=True),
            Reading("T\N{LATIN SUBSCRIPT SMALL LETTER L}", "load on the shaft", f"{self['load'] / 100 * self.rated_torque if self['rotor'] == 'free' else 0:.2f}", "N m",
                    f"{self['load']:g} % of {self.rated_torque:.2f} N m" if self["rotor"] == "free" else "the shaft is held or driven"),
            Reading("δ", "the rotor's field behind the stator's, electrical", "none" if np.isnan(state.lag) or state.reaction_mmf < 1e-6
                    else minus(np.degrees(self.sense * state.lag), 0), "°", "90° and what the current lags its EMF", tells=True),
        ]

    def scales(self) -> dict[str, str]:
        current, force = self.fullest
        return {
            "B": f"10 mm is {LARGEST_FIELD * 0.01 / longest_field(self.pole_pairs):.2f} T",
            "\N{CIRCLED DOT OPERATOR}": f"as large as the bar at {current:.0f} A", "F": f"10 mm is {force * 0.01 / LONGEST_FORCE:.1f} N",
            "T": f"10 mm is {self.greatest_torque * 0.01 / LONGEST_TORQUE:.2f} N m",
            "n": f"10 mm is {0.01 / LONGEST_SPEED:.0%} of synchronous speed",
        }

    def says(self) -> str:
        state = self.at_the_bar().state
        field = "The field stands" if self["rotor"] == "proof" else f"The field turns {self.seen(self.turning.speed)}"
        rotor = f"the rotor turns {self.seen(self.moment.rotor_speed)}" if abs(self.moment.rotor_speed) > 0.1 else "the rotor stands"
        pulls = self.seen(state.torque) if abs(state.torque) > 1e-6 else "none"
        pushed = f"its bars are pushed {pulls}" if pulls != "none" else "no bar carries current and none is pushed"
        return f"{field} and {rotor}, seen from {self.end}; {pushed}."

    def question(self) -> Question:
        at = self.at_the_bar()
        turns = ("clockwise", "counter-clockwise")
        if self["rotor"] == "proof":
            along = float(at.current @ AXIS)
            answer = "toward" if along > 0 else "away" if along < 0 else "none"
            return Question(
                f"The field stands still and the bars are turned {self.seen(self.moment.rotor_speed)}, seen from {self.end}. Which way does current flow in "
                f"the bar at the {self['bar']} pole?",
                (("toward", "toward the drive end"), ("away", "away from the drive end"), ("none", "no current flows")),
                answer, f"{self._words('right')} {LAGGING} {dict(toward='toward the drive end', away='away from it')[answer]}." if at.lags else
                f"{self._words('right')} The push on it is then against its motion: {self._words('left')}",
            )
        torque = at.state.torque
        moving = {"free": "stands and is let go", "held": "is held still"}.get(
            self["rotor"],
            f"is driven {self.seen(self.moment.rotor_speed)} at {abs(self['speed']):g} % of the field's speed" if self["speed"] else "is held still")
        answer = self.seen(torque) if abs(torque) > 1e-9 else "none"
        return Question(
            f"Seen from {self.end} the field turns {self.seen(self.turning.speed)}; the rotor {moving}. Which way do the forces on its bars push it?",
            (*((turn, turn) for turn in turns), ("none", "not at all")), answer, self._reason(answer),
        )

    def _reason(self, answer: str) -> str:
        if answer == "none":
            return "A bar that moves with the field cuts no flux: no EMF, no current, no force."
        relative = self.seen(self.moment.rotor_speed - self.turning.speed)
        begins = f"Relative to the field the bars move {relative}. At the first instant, at the {self['bar']} pole: {self._words('right')} "
        if self.at_the_bar().lags:
            return f"{begins}{LAGGING} the other way. Over all bars together the push is {answer}, against that motion."
        return f"{begins}{self._words('left')} So the bars are pushed {answer}, against that motion."

    def _words(self, hand: str) -> str:
        return self.at_the_bar().hand(hand, self.side).words()

    def random_setup(self, random) -> dict:
        rotor = random.choice(("free", "held", "driven", "driven", "driven", "proof", "proof"))
        return {
            "rotor": rotor, "lines": random.choice([name for name, _ in self.by_name["lines"].choices]),
            "speed": float(random.choice((50, 100, 100, 130, 150))) if rotor == "driven" else 100.0,
            "poles": random.choice(("2", "2", "4")), "bar": random.choice(("N", "S")), "hand": "none" if rotor != "proof" else "right",
        }
