"""A conductor moved through a field generates: a rod drawn through the gap of a magnet by hand, or to and fro."""

from __future__ import annotations

from functools import cached_property

import numpy as np

from physics.conductors.force_and_emf import flux_cut, generate
from physics.directions import direction_words, emf_direction, right_hand
from physics.fields.block_magnets import gap_field
from physics.fields.flux_lines import flux_lines
from scenes.scene.controls import Choice, Number, Switch, slow_motion
from scenes.scene.scene import Chart, Key, Question, Reading, Scene, View, minus
from visual import palette
from visual.apparatus.moved_rod import EMF_AT_FULL_SCALE, METRES_PER_NEWTON, METRES_PER_SPEED, METRES_PER_TESLA, MovedRod

GAP = 0.060  # m
POLE = np.array([0.070, 0.030])  # m, across the motion and toward the gap; along the rod as the control says
DEPTHS = (20, 40, 60)  # mm
HALF_ROD = 0.075  # m
ALONG_ROD = np.array([0.0, 0.0, 1.0])  # the way a positive EMF drives current: toward the viewer
WAYS = {"across": np.array([1.0, 0, 0]), "along-field": np.array([0, 1.0, 0]), "along-rod": ALONG_ROD}
REACH = {"across": 0.080, "along-field": 0.022, "along-rod": 0.040}  # m, how far it can be moved either way
MASS = 0.08  # kg, of rod and carrier
HAND = 9.0  # 1/s: how briskly the hand follows its mark
RANGES = {"20 mV": 0.02, "200 mV": 0.2, "2 V": 2.0}  # V, of the meter where one is chosen
FULL_SCALES = (0.001, 0.002, 0.005, 0.01, 0.02, 0.05, 0.1, 0.2, 0.5, 1.0, 2.0, 5.0, 10.0)  # V
SHORT = 1e-4  # s, over which the rate of flux linkage is taken


def poles_field(depth: float, polarisation: float):
    """The field of the two poles, `depth` metres along the rod; a function of points."""
    return gap_field(GAP, (POLE[0], POLE[1], depth), polarisation, direction=(0, 1, 0))


class MovedConductor(Scene):
    name = "moved-conductor"
    title = "A conductor that is moved generates"
    principle = "A conductor moved across a field generates a voltage: the right hand says which way."
    controls = (
        Choice("motion", "Moved", "to-and-fro", (("to-and-fro", "to and fro"), ("hand", "by hand (slider or arrow keys)"))),
        Number("place", "Hand at", 80.0, "% of the way", -100.0, 100.0, 1.0, only_with=("motion", "hand")),
        Number("speed", "Greatest speed to and fro", 0.5, "m/s", 0.1, 2.0, 0.1, only_with=("motion", "to-and-fro")),
        Choice("way", "Direction of the motion", "across",
               (("across", "across the field"), ("along-field", "along the field"), ("along-rod", "along itself"))),
        Choice("field", "Field", "up", (("up", "upward (N pole below)"), ("down", "downward (N pole above)")), role="field"),
        Number("strength", "Strength of the magnet", 1.2, "T", 0.4, 1.4, 0.1),
        Choice("depth", "Length of the poles", "40", tuple((str(mm), f"{mm} mm") for mm in DEPTHS)),
        Number("turns", "Turns", 1.0, "", 1.0, 200.0, 1.0),
        Choice("meter", "Range of the meter", "fitting",
               (("fitting", "the smallest that fits"), ("20 mV", "20 mV"), ("200 mV", "200 mV"), ("2 V", "2 V"))),
        Switch("closed", "Circuit closed on a resistor", False),
        Number("resistance", "Resistance of the circuit", 1.0, "Ω", 0.1, 20.0, 0.1, only_with=("closed", True)),
        slow_motion("1"),
    )
    arrows = (
        Key("B", "field at the middle of the rod", palette.HEX["field"]),
        Key("v", "motion of the rod", palette.HEX["motion"]),
        Key("E", "voltage: the way it drives current", palette.HEX["emf"]),
        Key("F", "force that opposes the motion", palette.HEX["force"]),
    )
    views = (
        View("corner", "from the front corner", (-0.42, -0.4, -1.0), (0.02, 0.0, 0.0), 0.107),
        View("front", "along the rod", (0.0, -0.12, -1.0), (0.03, 0.0, 0.0), 0.1),
        View("above", "from above", (0.0, -1.0, -0.25), (0.03, 0.0, 0.0), 0.11),
    )
    chart = Chart("EMF", "mV", 4.0, (("EMF", palette.HEX["emf"]),))
    caution = (
        "Strong magnets snap together and pinch; keep them from watches and pacemakers. A coil of many turns that is torn out of a "
        "field can give a voltage one feels: keep to your local rules."
    )
    narration = "Move the rod across the field and the meter swings; reverse the motion and it swings the other way. Hold still, and there is nothing."

    def __init__(self):
        self.clock = 0.0  # of the chart, which goes on whatever is begun anew
        super().__init__()

    # the physics of this moment

    @property
    def sense(self) -> float:
        return 1.0 if self["field"] == "up" else -1.0

    @cached_property
    def field(self):
        """The field of the two blocks as a function of points."""
        return poles_field(self.depth, self.sense * self["strength"])

    @property
    def depth(self) -> float:
        """Of the poles along the rod, metres."""
        return int(self["depth"]) / 1000

    @property
    def turns(self) -> int:
        return round(self["turns"])

    @property
    def travel(self) -> float:
        """The greatest displacement to and fro, metres."""
        return 0.6 * REACH[self["way"]]

    @property
    def mark(self) -> float:
        """Where the hand is, metres along the way of the motion."""
        return self["place"] / 100 * REACH[self["way"]]

    def restart(self) -> None:
        """To and fro: in the middle, moving the positive way. By hand: at the far side, about to follow its mark."""
        self.time = 0.0
        self.displacement = 0.0 if self["motion"] == "to-and-fro" else -self.mark
        self.speed = self["speed"] if self["motion"] == "to-and-fro" else 0.0

    def changed(self, name: str) -> None:
        if name in ("strength", "depth", "field"):
            self.forget("field")
        if name in ("way", "motion"):
            self.restart()

    def step(self, seconds: float) -> None:
        self.clock += seconds
        if self["motion"] == "to-and-fro":
            turning = self["speed"] / self.travel
            # the phase goes on from where it is, so that a change of speed does not make the rod jump
            self.time += turning * seconds
            self.displacement = self.travel * np.sin(self.time)
            self.speed = self["speed"] * np.cos(self.time)
            return
        steps = max(1, int(np.ceil(seconds / 0.004)))
        for _ in range(steps):
            self._follow(seconds / steps)

    def _follow(self, dt: float) -> None:
        """The hand draws the rod to its mark like a spring without overshoot; the field's drag slows it, implicitly."""
        drag = self._drag_per_speed()
        pull = HAND**2 * (self.mark - self.displacement)
        self.speed = (self.speed + dt * pull) / (1 + dt * (2 * HAND + drag / MASS) + dt * dt * HAND**2)
        self.displacement += dt * self.speed

    def _drag_per_speed(self) -> float:
        """Newtons against the motion for each metre per second, from the field where the rod is."""
        if not self["closed"]:
            return 0.0
        at = generate(self.path(), WAYS[self["way"]], self.field, self["resistance"], self.turns)
        return at.mechanical_power

    def path(self, displacement: float | None = None) -> np.ndarray:
        """Where the rod is, from its far to its near end, shape (2, 3)."""
        moved = self.displacement if displacement is None else displacement
        return HALF_ROD * np.array([-ALONG_ROD, ALONG_ROD]) + moved * WAYS[self["way"]]

    @property
    def velocity(self) -> np.ndarray:
        return self.speed * WAYS[self["way"]]

    def moment(self) -> dict:
        """Field, EMF, current and force at this moment, and the length in the field that follows from them."""
        path, velocity = self.path(), self.velocity
        middle = self.field(path.mean(axis=0)[np.newaxis])[0]
        made = generate(path, velocity, self.field, self["resistance"], self.turns)
        across = np.linalg.norm(np.cross(velocity, middle))
        if across > 1e-9:
            length = abs(made.emf) / (self.turns * across)
        else:  # at rest, or moved along the field: what it would cut if it were moved across
            length = abs(generate(path, WAYS["across"], self.field, 1.0).emf / middle[1])
        closed = self["closed"]
        return {
            "middle": path.mean(axis=0), "field": middle, "emf": made.emf,
            "current": made.current if closed else 0.0, "force": made.force if closed else np.zeros(3),
            "length": length,
            "across": across,
        }

    def flux_rate(self) -> float:
        """Flux that the rod cuts each second about this moment, webers per second."""
        step = 0.5 * SHORT * self.speed
        before, after = self.path(self.displacement - step), self.path(self.displacement + step)
        return flux_cut(before, after, self.field, self.turns, stations=3) / SHORT

    @property
    def full_scale(self) -> float:
        """Of the meter, volts: the range that is chosen, else the smallest within which this set-up stays."""
        return RANGES.get(self["meter"]) or self.fitting_scale

    @property
    def fitting_scale(self) -> float:
        """The smallest of the usual ranges, volts, that this set-up stays within at its greatest speed."""
        at = generate(self.path(0.0), [1.0, 0, 0], self.field, 1.0, self.turns)
        fastest = self["speed"] if self["motion"] == "to-and-fro" else 0.6
        needed = 1.1 * abs(at.emf) * fastest
        return next((scale for scale in FULL_SCALES if scale >= needed), FULL_SCALES[-1])

    @property
    def arrow_scale(self) -> float:
        """Volts that the arrow E is drawn as long for as it ever becomes: on a range that is chosen too small it keeps its length."""
        return max(self.full_scale, self.fitting_scale)

    def chart_point(self) -> list[float]:
        made = generate(self.path(), self.velocity, self.field, self["resistance"], self.turns)
        return [self.clock, made.emf * 1000 if self.answers_shown else 0.0]

    # what is drawn

    def build(self, host) -> None:
        self.drawn = MovedRod(GAP, POLE, HALF_ROD, {str(mm): _lines(mm / 1000) for mm in DEPTHS})
        self.drawn.name_for_tests(host)

    def draw(self) -> None:
        now, shown, bench = self.moment(), self.answers_shown, self.drawn
        bench.magnetise(self["depth"], self.depth, self.sense)
        scale = self.full_scale
        emf = now["emf"] if shown else 0.0
        bench.move(now["middle"], now["field"], self._shown_motion(), emf / self.arrow_scale, now["force"] if shown else np.zeros(3))
        bench.measure(emf / scale, f"{scale:g} V" if scale >= 0.5 else f"{scale * 1000:g} mV")
        hand = right_hand(now["field"], self.velocity)
        seen = shown and abs(now["emf"]) > 1e-9 and abs(hand.second_finger @ ALONG_ROD) > 0.5
        bench.hold_out(hand if seen else None)
        bench.resistor.visible = self["closed"]

    def _shown_motion(self) -> np.ndarray:
        """The velocity; while the rod waits for an answer, the motion it is about to make."""
        return self.velocity if self.answers_shown or self.speed else 0.5 * self._coming() * WAYS[self["way"]]

    def _coming(self) -> float:
        """+1 or -1: the way the rod moves, or is about to move, along the direction of the motion; 0 for neither."""
        if abs(self.speed) > 1e-6:
            return float(np.sign(self.speed))
        return float(np.sign(self.mark - self.displacement)) if self["motion"] == "hand" else 1.0

    # what is read and asked

    def readings(self) -> list[Reading]:
        now = self.moment()
        size, speed = np.linalg.norm(now["field"]), abs(self.speed)
        millivolts = now["emf"] * 1000
        sine = now["across"] / (size * speed) if size * speed > 1e-12 else 0.0
        return [
            Reading("E", "EMF, toward you in the rod positive", minus(millivolts, 2), "mV",
                    f"E = N B l v sin θ = {self.turns} × {size:.4f} T × {now['length']:.4f} m × {speed:.3f} m/s × {sine:.3f} = {abs(millivolts):.2f} mV",
                    tells=True),
            Reading("B", "field at the middle of the rod", minus(size * 1000, 0), "mT", f"it points {direction_words(now['field'])}"),
            Reading("v", "speed of the rod", minus(speed, 2), "m/s", f"it moves {direction_words(self.velocity)}" if speed > 1e-3 else "it is at rest"),
            Reading("l", "length in the field", minus(now["length"] * 1000, 1), "mm",
                    "the length on which an even field as strong as at the middle would generate as much"),
            Reading("N", "turns", str(self.turns), ""),
            Reading("dΨ/dt", "flux cut each second", minus(self.flux_rate() * 1000, 2), "mWb/s",
                    f"flux cut in {SHORT * 1000:g} ms, divided by that time", tells=True),
            Reading("I", "current in the circuit", minus(now["current"] * 1000, 1), "mA",
                    f"I = E / R = {minus(millivolts, 2)} mV / {self['resistance']:g} Ω" if self["closed"] else "the circuit is open", tells=True),
            Reading("F", "force that opposes the motion", minus(np.linalg.norm(now["force"]) * 1000, 2), "mN",
                    f"F v = {abs(now['force'] @ self.velocity) * 1000:.3f} mW = I² R = {now['current'] ** 2 * self['resistance'] * 1000:.3f} mW"
                    if self["closed"] else "without current no force", tells=True),
        ]

    def scales(self) -> dict[str, str]:
        scale = self.arrow_scale
        unit = 0.01 * scale / EMF_AT_FULL_SCALE
        return {
            "B": f"10 mm is {10 / METRES_PER_TESLA:.0f} mT", "v": f"10 mm is {0.01 / METRES_PER_SPEED:g} m/s",
            "F": f"10 mm is {10 / METRES_PER_NEWTON:.0f} mN",
            "E": f"10 mm is {unit:.3g} V" if scale >= 0.5 else f"10 mm is {unit * 1000:.3g} mV",
        }

    def says(self) -> str:
        now = self.moment()
        if abs(self.speed) < 1e-3:
            return "The rod is at rest and generates nothing."
        if abs(now["emf"]) < 1e-9:
            return f"The rod moves {direction_words(self.velocity)}, cuts no flux and generates nothing."
        return (f"The field points {direction_words(now['field'])} and the rod moves {direction_words(self.velocity)}: its voltage drives "
                f"current {direction_words(now['emf'] * ALONG_ROD)}.")

    def question(self) -> Question:
        field = self.sense * np.array([0, 1.0, 0])
        motion = self._coming() * WAYS[self["way"]]
        along = emf_direction(field, motion) @ ALONG_ROD
        answer = direction_words(along * ALONG_ROD if abs(along) > 0.5 else np.zeros(3))
        reason = right_hand(field, motion).words() if np.any(motion) else "A rod at rest cuts no flux."
        if np.any(emf_direction(field, motion)) and abs(along) <= 0.5:
            reason = (f"Field {direction_words(field)} and motion {direction_words(motion)}: the second finger points across the rod, not "
                      "along it, and drives no current from end to end.")
        moves = f"the rod is moved {direction_words(motion)}" if np.any(motion) else "the rod is at rest"
        return Question(
            f"The field points {direction_words(field)}, {moves}. Which way does its voltage drive current in the rod?",
            tuple((words, "there is no voltage" if words == "nowhere" else words) for words in ("toward you", "away from you", "nowhere")),
            answer,
            reason,
        )

    def random_setup(self, random) -> dict:
        return {
            "motion": "hand",
            "place": float(random.choice((-1, 1)) * random.choice((70, 80, 90))),
            "way": random.choice(("across", "across", "across", "along-field", "along-rod")),
            "field": random.choice(("up", "down")),
            "turns": float(random.choice((1, 20, 50))),
            "slow": "5",
        }


def _lines(depth: float) -> np.ndarray:
    """Flux lines across the gap, traced through the field of poles of that depth."""
    starts = [(x, -GAP / 2 + 0.0005, side * 0.35 * depth) for x in (-0.024, -0.012, 0.0, 0.012, 0.024) for side in (-1, 1)]
    return flux_lines(poles_field(depth, 1.0), np.array(starts), GAP - 0.001, points=17)
