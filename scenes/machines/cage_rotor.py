"""A rotating field drags a cage along: what each bar generates, carries and is pushed with."""

from __future__ import annotations

import numpy as np

from physics.cage import Cage
from physics.cage import motion as cage_motion
from physics.cage.motion import RotorMoment
from physics.induction.fed_cage import CageOnSupply
from physics.shaft.shafts import DrivenShaft, FreeShaft
from physics.supply.supplies import ThreePhaseSupply
from scenes.machines import cage_words, demonstration_cage
from scenes.machines.cage_observed import Observed, observed
from scenes.machines.demonstration_cage import BARS, INERTIA, NO_LOAD_FIELD
from scenes.scene import common_controls
from scenes.scene.controls import Choice, Number, slow_motion
from scenes.scene.scene import Key, Line, Mark, Plot, Question, Reading, View
from scenes.scene.seen_from_an_end import SeenFromAnEnd
from visual import palette
from visual.machines.cage_drawn import LONGEST_FORCE
from visual.machines.cage_machine import LONGEST_SPEED, LONGEST_TORQUE, CageMachine, longest_field
from visual.solid.solids import Group

PROOF_SPEED = 0.4  # of synchronous speed, at which the bars are turned the other way past a field that stands
LARGEST_FIELD = 0.8  # T, whose arrow is the longest
RPM = 30 / np.pi


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
            ("none", "none"), ("right", "right: direction of the current"), ("left", "left: direction of the force"),
        )),
        Choice("bar", "for the bar", "N", (("N", "at the N pole"), ("S", "at the S pole"))),
        common_controls.line_order(),
        common_controls.poles(),
        common_controls.frequency(),
        Choice("fed", "Fed with", "voltage", (("voltage", "a supply of fixed voltage"), ("field", "a field held constant"))),
        Number("field", "Field in the gap, peak", NO_LOAD_FIELD, "T", 0.1, LARGEST_FIELD, 0.05, only_with=("fed", "field")),
        Choice("broken", "Bars broken", "none", (("none", "none"), ("one", "one"), ("three", "three side by side"))),
        slow_motion("200", ("50", "100", "200", "500", "1000")),
    )
    arrows = (
        Key("B", "field across the gap, of stator and rotor together", palette.HEX["field"], "T"),
        Key("B\N{LATIN SUBSCRIPT SMALL LETTER R}", "the rotor's own field: what the currents of its bars would make alone", palette.HEX["emf"], "T"),
        Key("\N{CIRCLED DOT OPERATOR}", "dot: the bar's current flows toward this end of it; cross: toward the far end", palette.HEX["current"]),
        Key("F", "force on each bar", palette.HEX["force"], "N"),
        Key("T", "torque: all forces together, as a force along the rim", palette.HEX["force"], "N m"),
        Key("n", "speed of the rotor, along the rim", palette.HEX["motion"], "r/min"),
        Key("β", "electrical angle by which Bᵣ is behind B", palette.HEX["emf"]),
        Key("v", "motion of the bar relative to the field", palette.HEX["motion"]),
        Key("E", "EMF of the bar", palette.HEX["emf"]),
        Key("I", "current of the bar", palette.HEX["current"]),
    )
    views = (
        View("drive-end", "from the drive end", (-0.2, -0.13, -1.0), (0.028, 0.005, 0.0), 0.127),
        View("other-end", "from the non-drive end", (0.2, -0.13, 1.0), (-0.028, 0.005, 0.0), 0.127),
        View("bars", "along the bars", (-0.8, -0.35, -0.9), (0.022, 0.005, 0.0), 0.127),
    )
    other_end = "the non-drive end"
    caution = (
        "A motor that is held still draws several times its rated current and burns within seconds; a rotor that is let go starts at once. "
        "Never reach in: isolate, lock off and prove dead first, as your local code and your licence ask."
    )
    narration = (
        "The field turns past the bars of the cage. Currents flow in them, the field pushes them along, and the rotor follows, a little slower."
    )
    leaves_out = (
        "The rush of the first cycles after switching on: currents and field are those of steady running at the speed of each moment.",
        "Iron loss, friction and windage: the whole torque of the bars is on the load.",
        "Saturation: the field keeps in proportion to the magnetising current, and leakage does not fall when the current is large.",
        "Skin effect: the resistance of the bars is the same at every frequency in the rotor.",
        "Skewed bars and the slots of stator and rotor: the field in the gap is a pure sine wave.",
        "With bars broken: the currents that the lopsided cage induces back in the stator.",
        "The gap is drawn many times wider than it is, so that the bars and the forces on them can be seen.",
    )

    def __init__(self):
        self._observed = None
        super().__init__()

    # the physics of this moment

    @property
    def sense(self) -> float:
        """+1 where the lines as joined turn the field counter-clockwise seen from the drive end, -1 where clockwise."""
        supply = ThreePhaseSupply(400.0, self["frequency"], tuple(self["lines"].split("-")))
        return -1.0 if supply.sequence == "positive" else 1.0

    @property
    def fed(self) -> CageOnSupply:
        """Stator and cage on the supply as it is set."""
        return demonstration_cage.on_supply(int(self["poles"]), self["frequency"], self["broken"], self.sense)

    @property
    def held(self) -> float | None:
        """T at which the field is held; None where the supply's voltage is."""
        return self["field"] if self["fed"] == "field" else None

    @property
    def stands(self) -> bool:
        return self["rotor"] == "proof"

    @property
    def cage(self) -> Cage:
        return self.fed.cage

    @property
    def load(self) -> float:
        """N m that the load asks of a free shaft."""
        return self["load"] / 100 * demonstration_cage.rated_torque(int(self["poles"])) if self["rotor"] == "free" else 0.0

    @property
    def shaft(self) -> FreeShaft | DrivenShaft:
        if self["rotor"] == "free":
            return FreeShaft(INERTIA * self["inertia"], dry_friction=self.load)
        share = {"held": 0.0, "driven": self["speed"] / 100, "proof": -PROOF_SPEED}[self["rotor"]]
        return DrivenShaft(share * self.fed.speed)

    def changed(self, name: str) -> None:
        self._observed = None
        if name in ("rotor", "speed", "lines", "poles", "frequency") and self["rotor"] != "free":
            self.moment = RotorMoment(self.moment.supply_angle, self.moment.rotor_angle, self.shaft.speed)

    def restart(self) -> None:
        """The field's peak upward; a free rotor at rest."""
        speed = 0.0 if self["rotor"] == "free" else self.shaft.speed
        field = demonstration_cage.field_of(self.fed, self.held, self.stands)
        ahead = cage_motion.crest_at(field, RotorMoment(rotor_speed=speed))[1]
        self.moment = RotorMoment(np.pi / 2 - ahead, np.pi / 2, speed)

    def step(self, seconds: float) -> None:
        field = demonstration_cage.field_of(self.fed, self.held, self.stands)
        self.moment = cage_motion.advance(self.cage, field, self.moment, self.shaft, seconds)

    @property
    def now(self) -> Observed:
        """All that is physical about this moment, worked out once."""
        if self._observed is None or self._observed.moment is not self.moment:
            self._observed = observed(self.fed, self.held, self.stands, self.moment, self["bar"], self.load, self["rotor"] == "free")
        return self._observed

    # what is drawn

    def build(self, host) -> None:
        self.drawn = Group()
        machine = self.machine = self.drawn.add(CageMachine(BARS, common_controls.POLES, LARGEST_FIELD))
        for poles in common_controls.POLES:
            host.name(f"cage-poles-{poles}", machine.poles[poles].solid.drawn)
            host.name(f"cage-field-{poles}", machine.fields[poles].arrows[0].shaft.drawn)
        for name, solid in (("reaction", machine.reaction.shaft), ("torque", machine.torque.shaft), ("speed", machine.speed.shaft),
                            ("rotor", machine.rotor.core), ("right-hand", machine.hands["right"].solid), ("left-hand", machine.hands["left"].solid)):
            host.name(f"cage-{name}", solid.drawn)
        for kind, parts in (("mark", machine.rotor.marks), ("force", machine.rotor.forces)):
            for number, part in enumerate(parts):
                host.name(f"cage-{kind}-{number}", part.solid.drawn)
        for number, bar in enumerate(machine.rotor.bars):
            host.name(f"cage-bar-{number}", bar.drawn)

    def draw(self) -> None:
        o, shown, side, machine = self.now, float(self.answers_shown), self.side, self.machine
        most, state = o.curves, o.state
        machine.rotor.full_current, machine.rotor.full_force = most.most_current, most.most_force
        machine.rotor.put(self.moment.rotor_angle, shown * state.current, shown * state.force, self.cage.missing,
                          o.number if self["hand"] != "none" else None, side)
        machine.wiring.join(self["lines"].split("-"))
        machine.show_field(int(self["poles"]), o.crest_angle, o.crest, side)
        machine.show_reaction(o.fed.pole_pairs, o.crest_angle, state.lag, shown * o.rotor_field, most.most_rotor_field, side)
        machine.show_shaft(shown * state.torque, most.most_torque, self.moment.rotor_speed * RPM, abs(o.synchronous) * RPM, side)
        seen = shown and self["hand"] != "none" and abs(state.emf[o.number]) > 1e-9
        machine.show_hand(o.hand(self["hand"]) if seen else None, o.bar_angle, side)

    def plot(self) -> Plot | None:
        if not self.answers_shown:
            return None
        key = tuple(self[name] for name in ("poles", "frequency", "fed", "field", "broken", "lines", "rotor", "load"))
        return self.kept(key, self._curves)

    def _curves(self) -> Plot:
        """The torque of the bars at any speed, and the load."""
        o = self.now
        speeds = o.curves.shares * abs(o.synchronous) * RPM
        fed = "field held constant" if o.held or o.stands else "fixed voltage"
        lines = [Line(f"torque of the bars, {fed}", palette.HEX["force"], tuple(zip(speeds.tolist(), o.curves.torque.tolist())))]
        if o.load:
            lines.append(Line("load", palette.HEX["current"], ((0.0, o.load), (float(speeds[-1]), o.load))))
        return Plot("speed with the field", "r/min", "torque with the field", "N m", tuple(lines))

    def marks(self) -> list[Mark]:
        if not self.answers_shown:
            return []
        o = self.now
        return [Mark("the same slip" if o.stands else "rotor", palette.HEX["motion"], (1 - o.slip) * abs(o.synchronous) * RPM, o.sense * o.state.torque)]

    # what is read and asked

    def readings(self) -> list[Reading]:
        return cage_words.readings(self.now, self.eye)

    def scales(self) -> dict[str, str]:
        o = self.now
        longest = longest_field(o.fed.pole_pairs)
        return {
            "B": f"10 mm is {LARGEST_FIELD * 0.01 / longest:.2f} T",
            "B\N{LATIN SUBSCRIPT SMALL LETTER R}": f"10 mm is {o.curves.most_rotor_field * 0.01 / longest:.2f} T",
            "\N{CIRCLED DOT OPERATOR}": f"its area is the current, {o.curves.most_current:.0f} A when it fills the bar; so is the bar's brightness",
            "F": f"10 mm is {o.curves.most_force * 0.01 / LONGEST_FORCE:.1f} N", "T": f"10 mm is {o.curves.most_torque * 0.01 / LONGEST_TORQUE:.2f} N m",
            "n": f"10 mm is {0.01 / LONGEST_SPEED:.0%} of synchronous speed",
        }

    def says(self) -> str:
        return cage_words.sentence(self.now, self.eye)

    def question(self) -> Question:
        return cage_words.question(self.now, self.eye, self["bar"], self["rotor"], self["speed"])

    def random_setup(self, random) -> dict:
        rotor = random.choice(("free", "held", "driven", "driven", "driven", "proof", "proof"))
        return {
            "rotor": rotor, "lines": random.choice([name for name, _ in self.by_name["lines"].choices]),
            "speed": float(random.choice((50, 100, 100, 130, 150))) if rotor == "driven" else 100.0,
            "poles": random.choice(("2", "2", "4")), "bar": random.choice(("N", "S")), "hand": "right",
        }
