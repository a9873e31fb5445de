"""Two wires push each other: a pair of parallel wires hung side by side, each in the field of the other."""

from __future__ import annotations

from functools import cached_property

import numpy as np

from physics.conductors.hung_rod import Swing
from physics.conductors.parallel_wires import HungPair, field_beside_middle, force_between, force_per_metre
from physics.constants import VACUUM_PERMEABILITY
from physics.directions import direction_words, field_direction, force_direction, left_hand
from physics.fields import segment_field
from scenes.scene.controls import Choice, Number, Switch, slow_motion
from scenes.scene.scene import Key, Question, Reading, Scene, View, minus
from visual import palette
from visual.apparatus.circuit import KnifeSwitch, cord
from visual.apparatus.flux import FieldMarks
from visual.hand.hand_on_bench import FlemingHand
from visual.solid.mesh import block, joined, rod
from visual.solid.solids import Arrow, Group, Solid

SIDES = {"left": -1.0, "right": 1.0}  # where each wire hangs, along x
ALONG = np.array([0.0, 0.0, 1.0])  # toward the viewer: the way a positive current flows
LEADS = 0.120  # m, from the bar down to the wires
MASS_PER_METRE = 0.0134  # kg/m: 1.5 mm^2 of copper at 8.9 g/cm^3 (memory); the beads are light
WIRE_RADIUS = 0.003  # m, with the sleeve on it
BEADS = 0.012  # m, across the beads that keep the wires apart when they are drawn together
DAMPING_TIME = 0.5  # s, in which a swing dies down to 1 / e
LONGEST = 0.240  # m
FLOOR = -0.060  # m, the top of the base
SWITCH = np.array([0.095, FLOOR, -0.045])  # m
ABOVE = 0.010  # m: the current's arrow over the near half of its wire
POST = -0.150  # m, where the post stands, behind the wires
PLACES = np.array([[x, y, 0.0] for y in (0.042, 0.0, -0.042) for x in np.linspace(-0.1, 0.1, 6) if y or abs(x) > 0.05])
METRES_PER_NEWTON = 10.0
METRES_PER_TESLA = 0.02 / 200e-6
METRES_PER_AMPERE = 0.03 / 40


class TwoWires(Scene):
    name = "two-wires"
    title = "Two currents push each other"
    principle = "Each of two wires lies in the field of the other: currents the same way attract, opposite ones repel."
    controls = (
        Switch("switch", "Switch closed", True),
        Number("current", "Current in the left wire, toward you", 40.0, "A", -50.0, 50.0, 1.0, role="current"),
        Number("other", "Current in the right wire, toward you", 40.0, "A", -50.0, 50.0, 1.0),
        Number("spacing", "From wire to wire, as they hang without current", 50.0, "mm", 30.0, 80.0, 5.0),
        Number("length", "Length of the wires", 200.0, "mm", 80.0, LONGEST * 1000, 20.0),
        Choice("wire", "Wire that is looked at", "left", (("left", "the left one"), ("right", "the right one"))),
        slow_motion("1"),
    )
    arrows = (
        Key("I", "current in each wire", palette.HEX["current"]),
        Key("B", "field of the one at the middle of the other", palette.HEX["field"]),
        Key("F", "push on each wire", palette.HEX["force"]),
    )
    views = (
        View("corner", "from the front corner", (-0.3, -0.32, -1.0), (0.0, 0.022, 0.0), 0.108),
        View("front", "along the wires", (0.0, -0.12, -1.0), (0.0, 0.02, 0.0), 0.1),
        View("high", "from above and in front", (0.0, -0.55, -1.0), (0.0, 0.02, 0.0), 0.125),
    )
    caution = (
        "Fifty amperes heat a thin wire quickly: switch on for a moment only. In a short circuit the push grows as the square of the "
        "current: 50,000 amperes in busbars 100 mm apart push with 5000 newtons on each metre. Bars and cables are braced for "
        "that; keep to your local code."
    )
    narration = "Two wires hang side by side. With currents the same way they are drawn together, with opposite ones they are pushed apart."

    # the physics of this moment

    @property
    def currents(self) -> dict[str, float]:
        """Amperes in each wire, positive toward the viewer."""
        return {"left": self["current"] * self["switch"], "right": self["other"] * self["switch"]}

    @property
    def length(self) -> float:
        return self["length"] / 1000

    @property
    def apart(self) -> float:
        """Metres from wire to wire at this moment."""
        return float(self.pair.spacing_at(self.swing.angle))

    @property
    def push(self) -> float:
        """Newtons on each wire, positive together."""
        return float(force_between(*self.currents.values(), self.apart, self.length))

    @cached_property
    def pair(self) -> HungPair:
        length = self.length
        inertia = MASS_PER_METRE * length * LEADS**2
        return HungPair(length, self["spacing"] / 1000, LEADS, MASS_PER_METRE, BEADS, damping=2 * inertia / DAMPING_TIME)

    @cached_property
    def settled(self) -> float:
        """Metres from wire to wire when they have come to rest."""
        return float(self.pair.spacing_at(self.pair.settles_at(*self.currents.values())))

    def middle(self, wire: str) -> np.ndarray:
        """Where the middle of a wire is at this moment, shape (3,)."""
        return np.array([SIDES[wire] * self.apart / 2, LEADS * (1 - np.cos(self.swing.angle)), 0.0])

    @property
    def middles(self) -> np.ndarray:
        """Where the middles of both wires are, the left one first, shape (2, 3)."""
        return np.array([self.middle(wire) for wire in SIDES])

    def field(self, points) -> np.ndarray:
        """The field of both wires at points, shape (n, 3); on one of them it is that of the other. The leads are left out."""
        middles, half = self.middles, self.length / 2 * ALONG
        return segment_field(points, middles - half, middles + half, list(self.currents.values()))

    def field_at(self, wire: str) -> np.ndarray:
        """The field of the other wire at the middle of this one, tesla, shape (3,)."""
        return self.field(self.middle(wire))[0]

    def pushed(self, wire: str) -> np.ndarray:
        """The force on a wire, newtons, shape (3,)."""
        return self.push * np.array([-SIDES[wire], 0.0, 0.0])

    def changed(self, name: str) -> None:
        self.forget("settled")
        if name in ("spacing", "length"):
            self.forget("pair")
            self.swing = Swing()

    def restart(self) -> None:
        self.swing = Swing()

    def step(self, seconds: float) -> None:
        self.swing = self.pair.swings(self.swing, *self.currents.values(), seconds)

    # what is drawn

    def build(self, host) -> None:
        group = self.drawn = Group()
        group.add(Solid(_stand())).put((0, 0, 0))
        hung, rail = Solid(_hung_wire()), Solid(rod([0, LEADS, POST - 0.012], [0, LEADS, LONGEST / 2 + 0.006], 0.0035, palette.SLATE, 8))
        self.hung, self.rails = ({"left": group.add(one), "right": group.add(one.copy())} for one in (hung, rail))
        self.blade = KnifeSwitch(group, SWITCH, 0.05)
        self.field_marks = FieldMarks(group, PLACES, 0.016)
        self.current_arrows = {wire: group.add(Arrow("I", palette.CURRENT, 0.004, METRES_PER_AMPERE)) for wire in SIDES}
        self.field_arrows = {wire: group.add(Arrow("B", palette.FIELD, 0.004, METRES_PER_TESLA)) for wire in SIDES}
        # between wires drawn together there is no room for a second letter
        self.force_arrow, self.other_force_arrow = (group.add(Arrow(letter, palette.FORCE, 0.0045, METRES_PER_NEWTON)) for letter in ("F", ""))
        self.hand = group.add(FlemingHand("left", 0.07, ("F", "B", "I"), (palette.FORCE, palette.FIELD, palette.CURRENT)))
        for wire in SIDES:
            host.name(f"two-wires-{wire}", self.hung[wire].drawn)
            host.name(f"two-wires-current-{wire}", self.current_arrows[wire].shaft.drawn)
            host.name(f"two-wires-field-{wire}", self.field_arrows[wire].shaft.drawn)
        host.name("two-wires-force", self.force_arrow.shaft.drawn)
        host.name("two-wires-force-other", self.other_force_arrow.shaft.drawn)
        host.name("two-wires-left-hand", self.hand.solid.drawn)
        for number, mark in enumerate(self.field_marks.marks):
            host.name(f"two-wires-mark-{number}", mark.drawn)

    def draw(self) -> None:
        shown, middles = self.answers_shown, self.middles
        fields = self.field(np.vstack([middles, PLACES]))
        for (wire, side), middle, field in zip(SIDES.items(), middles, fields):
            angle, current = -side * self.swing.angle, self.currents[wire]
            c, s = np.cos(angle), np.sin(angle)
            hinge = (side * self["spacing"] / 2000, LEADS, 0.0)
            self.rails[wire].put((hinge[0], 0, 0))
            self.hung[wire].put(hinge, np.array([[c, -s, 0], [s, c, 0], [0, 0, 1.0]]), (1.0, 1.0, self.length))
            half_arrow = current * METRES_PER_AMPERE / 2 * ALONG
            self.current_arrows[wire].put(middle + [0, ABOVE, self.length / 4] - half_arrow, current * ALONG)
            self.field_arrows[wire].put(middle, field if shown else np.zeros(3))
            force_arrow = self.force_arrow if wire == self["wire"] else self.other_force_arrow
            force_arrow.put(middle, self.pushed(wire) if shown else np.zeros(3))
        self.field_marks.put(fields[2:] if shown else np.zeros_like(PLACES))
        wire = self["wire"]
        hand = left_hand(fields[list(SIDES).index(wire)], self.currents[wire] * ALONG)
        self.hand.put((SIDES[wire] * 0.12, 0.055, 0.0), hand if shown else None)
        self.blade.close(self["switch"])

    # what is read and asked

    def readings(self) -> list[Reading]:
        wire, other = self["wire"], other_than(self["wire"])
        here, there = self.currents[wire], self.currents[other]
        apart, length, permeability = self.apart, self.length, f"{VACUUM_PERMEABILITY * 1e6:.4f} µN/A²"
        field = abs(float(field_beside_middle(there, apart, length))) * 1e6
        each_metre, push = abs(float(force_per_metre(here, there, apart))) * 1000, abs(self.push) * 1000
        return [
            Reading("F", "push on each wire", minus(push, 2), "mN",
                    f"F = (F / l) × (√(l² + d²) \N{MINUS SIGN} d) = {each_metre:.2f} mN/m × (√({length:.3f}² + {apart:.4f}²) \N{MINUS SIGN} {apart:.4f}) m "
                    f"= {push:.2f} mN", tells=True),
            Reading("", "the wires", _together(here * there), "", tells=True),
            Reading("F / l", "on each metre, were the wires long", minus(each_metre, 2), "mN/m",
                    f"F / l = µ₀ I₁ I₂ / (2π d) = {permeability} × {abs(here):.1f} A × {abs(there):.1f} A / (2π × {apart:.4f} m) = {each_metre:.2f} mN/m",
                    tells=True),
            Reading("B", f"field of the {other} wire at the middle of the {wire} one", minus(field, 0), "µT",
                    f"B = µ₀ I / (2π d) × l / √(l² + 4 d²) = {permeability} × {abs(there):.1f} A / (2π × {apart:.4f} m) × "
                    f"{length / np.hypot(length, 2 * apart):.3f} = {field:.0f} µT"),
            Reading("", "its direction there", direction_words(self.field_at(wire)) if there else "none", "", tells=True),
            Reading("d", "from wire to wire", minus(apart * 1000, 1), "mm", f"they settle at {minus(self.settled * 1000, 1)} mm", tells=True),
            Reading("I₁", "current in the left wire, toward you positive", minus(self.currents["left"], 1), "A"),
            Reading("I₂", "current in the right wire, toward you positive", minus(self.currents["right"], 1), "A"),
        ]

    def scales(self) -> dict[str, str]:
        return {
            "I": f"10 mm is {0.01 / METRES_PER_AMPERE:.1f} A",
            "B": f"10 mm is {0.01 / METRES_PER_TESLA * 1e6:.0f} µT",
            "F": f"10 mm is {0.01 / METRES_PER_NEWTON * 1000:.1f} mN",
        }

    def says(self) -> str:
        left, right = self.currents.values()
        return f"{self._flowing()}: the wires {_together(left * right)}."

    def _flowing(self) -> str:
        """Which way the currents flow, as the beginning of a sentence."""
        left, right = (direction_words(current * ALONG) for current in self.currents.values())
        if left == right:
            return "No current flows" if left == "nowhere" else f"Both currents flow {left}"
        if "nowhere" in (left, right):
            carrying, way = ("right", right) if left == "nowhere" else ("left", left)
            return f"Only the {carrying} wire carries a current, {way}"
        return f"The current in the left wire flows {left}, that in the right wire {right}"

    def question(self) -> Question:
        wire, other = self["wire"], other_than(self["wire"])
        current, makes_it = self.currents[wire] * ALONG, self.currents[other] * ALONG
        field = field_direction(makes_it, [SIDES[wire], 0, 0])
        if not np.any(makes_it):
            reason = f"Without a current the {other} wire has no field, and without a field nothing is pushed."
        elif not np.any(current):
            reason = f"The {wire} wire lies in the field of the {other} one, but carries no current of its own: nothing is pushed."
        else:
            reason = (
                f"Right hand round the {other} wire, thumb {direction_words(makes_it)}: at the {wire} wire its field points "
                f"{direction_words(field)}. {left_hand(field, current).words()} The wires {_together(current @ makes_it)}."
            )
        return Question(
            f"{self._flowing()}. Which way is the {wire} wire pushed?",
            tuple((words, "it is not pushed" if words == "nowhere" else words) for words in ("to the left", "to the right", "up", "down", "nowhere")),
            direction_words(force_direction(field, current)),
            reason,
        )

    def random_setup(self, random) -> dict:
        currents = [float(random.choice((-1, 1)) * random.randint(20, 50)) for _ in range(2)]
        if random.random() < 0.15:
            currents[random.randint(0, 1)] = 0.0
        return {
            "current": currents[0],
            "other": currents[1],
            "spacing": float(random.choice((40, 50, 60))),
            "wire": random.choice(list(SIDES)),
        }


def other_than(wire: str) -> str:
    return "right" if wire == "left" else "left"


def _together(product: float) -> str:
    """What wires do to each other whose currents have this product."""
    return "attract each other" if product > 0 else "repel each other" if product < 0 else "do not push each other"


def _stand():
    """Base and post with the bar that bears the rails, and the cords that come to it from the switch."""
    first, second = SWITCH + [-0.0225, 0.012, 0], SWITCH + [0.0225, 0.012, 0]
    return joined(
        block([0.02, FLOOR - 0.005, -0.055], [0.24, 0.01, 0.23], palette.WOOD),
        block([0, (LEADS + FLOOR) / 2, POST], [0.014, LEADS - FLOOR, 0.014], palette.SLATE),
        block([0, LEADS, POST], [0.1, 0.012, 0.014], palette.SLATE),
        cord([first, first + [-0.03, 0.0, -0.03], [0.012, FLOOR + 0.004, POST + 0.02], [0.009, 0.0, POST + 0.008], [0.009, LEADS, POST + 0.008]], 0.003),
        cord([second, second + [0.02, 0.01, -0.03], [0.05, FLOOR + 0.003, POST], [0.02, FLOOR - 0.03, POST - 0.2]], 0.003),
    )


def _hung_wire():
    """A wire a metre long on its two leads, its hinge at the origin: to be stretched along z to its length."""
    ends = [[0, -LEADS, -0.5], [0, -LEADS, 0.5]]
    return joined(
        rod(*ends, WIRE_RADIUS, palette.COPPER, 10),
        *[rod([0, -LEADS, z - 0.02], [0, -LEADS, z + 0.02], BEADS / 2, palette.STEEL, 12) for z in (-0.43, 0.43)],
        *[rod([0, 0, z], [0, -LEADS, z], 0.0012, palette.CORD, 6) for z in (-0.497, 0.497)],
    )
