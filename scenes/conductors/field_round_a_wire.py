"""A current makes a field: compasses round a wire that goes up through a table."""

from __future__ import annotations

import numpy as np

from physics.constants import VACUUM_PERMEABILITY
from physics.directions import direction_words, field_direction, turning_sense
from physics.fields.compass import Compass
from physics.fields.currents import earth_field, long_wire_field
from physics.fields.flux_lines import ring_radii
from scenes.scene.controls import Choice, Number, Switch, slow_motion
from scenes.scene.scene import Key, Question, Reading, Scene, View, minus
from visual import palette
from visual.apparatus.circuit import Battery, KnifeSwitch, cord
from visual.apparatus.compass import CompassDrawn
from visual.apparatus.flux import FluxRings
from visual.hand.hand_on_bench import GripHand
from visual.solid.mesh import block, joined, rod
from visual.solid.solids import Arrow, Group, Letters, Solid

WIRE = np.array([0.0, 1.0, 0.0])
WIRE_RADIUS = 0.004  # m
EARTH = earth_field(20e-6, np.radians(66.0))  # T: of the order met at mid latitudes, north lying away from the viewer
PLACES = {
    "right": np.array([1.0, 0, 0]),
    "front": np.array([0, 0, 1.0]),
    "left": np.array([-1.0, 0, 0]),
    "back": np.array([0, 0, -1.0]),
}
IN_WORDS = {"right": "to the right of", "front": "in front of", "left": "to the left of", "back": "behind"}
DIAGONALS = [np.array([x, 0, z]) / np.sqrt(2) for x in (1, -1) for z in (1, -1)]
HAND_AT = 0.07  # m above the table
FLUX_BETWEEN_RINGS = 1.6e-6  # Wb for each metre of the wire
METRES_PER_AMPERE = 0.05 / 50
METRES_PER_TESLA = 0.045 / 100e-6


class FieldRoundAWire(Scene):
    name = "field-round-a-wire"
    title = "A current makes a field"
    principle = "A current makes a field round its wire; reversed, the field goes round the other way."
    controls = (
        Switch("switch", "Switch closed", True),
        Number("current", "Current upward", 20.0, "A", -50.0, 50.0, 1.0, role="current"),
        Number("distance", "Distance of the compasses", 60.0, "mm", 45.0, 120.0, 5.0),
        Choice("compass", "Compass that is read", "right", tuple((name, f"{IN_WORDS[name]} the wire") for name in PLACES)),
        Switch("earth", "Earth's field", True),
        slow_motion("1"),
    )
    arrows = (
        Key("I", "current in the wire", palette.HEX["current"]),
        Key("B", "field of the wire at the compass that is read", palette.HEX["field"]),
        Key("E", "level part of the Earth's field there", palette.HEX["motion"]),
    )
    views = (
        View("above", "from above and in front", (-0.16, -0.9, -1.0), (0.0, 0.026, 0.0), 0.128),
        View("top", "straight down the wire", (0.0, -1.0, -0.02), (0.0, 0.0, 0.0), 0.14),
        View("level", "along the table", (0.0, -0.16, -1.0), (0.0, 0.04, 0.0), 0.125),
    )
    caution = (
        "Fifty amperes heat a thin wire quickly and can burn: on a real bench switch on for a moment only, use a wire and a "
        "fuse that are made for it, and follow your local rules."
    )
    narration = "Compasses lie round a wire. When the current flows, every needle swings to lie along a circle round the wire."

    def __init__(self):
        self.kind = Compass(damping=1.1e-7)
        super().__init__()

    # the physics of this moment

    @property
    def current(self) -> float:
        """Amperes upward through the table."""
        return self["current"] if self["switch"] else 0.0

    @property
    def radius(self) -> float:
        return self["distance"] / 1000

    @property
    def earth(self) -> np.ndarray:
        return EARTH if self["earth"] else np.zeros(3)

    @property
    def spots(self) -> np.ndarray:
        """Where the needles' pivots are, the four that can be read first, shape (8, 3)."""
        return self.radius * np.array([*PLACES.values(), *DIAGONALS])

    @property
    def chosen(self) -> int:
        return list(PLACES).index(self["compass"])

    def wire_field(self, points) -> np.ndarray:
        return long_wire_field(points, np.zeros(3), WIRE, self.current, WIRE_RADIUS)

    def restart(self) -> None:
        """Needles as the Earth alone has them: what one sees before the switch is closed."""
        self.needles = self.kind.settled(np.tile(EARTH, (8, 1)))

    def step(self, seconds: float) -> None:
        self.needles = self.kind.swing(self.needles, self.wire_field(self.spots) + self.earth, seconds)

    # what is drawn

    def build(self, host) -> None:
        group = self.drawn = Group()
        group.add(Solid(_table())).put((0, 0, 0))
        group.add(Solid(joined(
            rod([0, -0.6, 0], [0, 0.6, 0], WIRE_RADIUS, palette.COPPER, 12),
            rod([0, HAND_AT - 0.045, 0], [0, HAND_AT + 0.045, 0], 0.009, palette.STEEL, 14),  # a sleeve to hold it by
        ))).put((0, 0, 0))
        north = group.add(Letters("North (away)", palette.INK, 16, ground=palette.STEEL))
        north.put((-0.1, 0.004, -0.14))
        self.battery = Battery(group, (-0.2, -0.008, 0.045), 0.05)
        self.blade = KnifeSwitch(group, (-0.2, -0.008, 0.12), 0.05)
        left, right = self.battery.terminals
        first, second = self.blade.ends
        group.add(Solid(joined(
            cord([right, right + [0.03, 0.02, 0.01], second + [0.03, 0.02, -0.02], second], 0.004),
            cord([left, left + [-0.03, 0.02, 0], left + [-0.1, -0.02, -0.1], left + [-0.35, -0.1, -0.3]], 0.004),
            cord([first, first + [-0.03, 0.01, 0.02], first + [-0.15, -0.04, 0.05], first + [-0.4, -0.1, 0.1]], 0.004),
        ))).put((0, 0, 0))
        self.compasses = [CompassDrawn(group, 0.0165) for _ in range(8)]
        self.rings = FluxRings(group, 0.01, 0.15, 0.0014)
        self.hand = group.add(GripHand(0.1, ("I", "B"), palette.CURRENT, palette.FIELD))
        self.current_arrow = group.add(Arrow("I", palette.CURRENT, 0.006, METRES_PER_AMPERE))
        self.field_arrow = group.add(Arrow("B", palette.FIELD, 0.005, METRES_PER_TESLA))
        self.earth_arrow = group.add(Arrow("E", palette.MOTION, 0.004, METRES_PER_TESLA))
        host.name("wire-current", self.current_arrow.shaft.drawn)
        host.name("wire-field", self.field_arrow.shaft.drawn)
        host.name("wire-earth", self.earth_arrow.shaft.drawn)
        host.name("wire-grip-hand", self.hand.solid.drawn)
        for number, drawn in enumerate(self.compasses):
            host.name(f"wire-needle-{number}", drawn.needle.drawn)

    def draw(self) -> None:
        spots, shown = self.spots, self.answers_shown
        for drawn, spot, way in zip(self.compasses, spots, self.kind.directions(self.needles.angle)):
            drawn.put(spot, way)
        at = spots[self.chosen]
        wire = self.wire_field(at)[0]
        above = at + [0, 0.008, 0]
        self.field_arrow.put(above, wire if shown else np.zeros(3))
        self.earth_arrow.put(above + [0.012, 0, 0.0], self.earth * [1, 0, 1])
        foot = 0.006 if self.current > 0 else 0.006 + abs(self.current) * METRES_PER_AMPERE
        self.current_arrow.put([-0.014 if self.current > 0 else 0.024, foot, 0.008], self.current * WIRE)
        radii = ring_radii(self.current, 0.014, 0.145, FLUX_BETWEEN_RINGS) if shown else np.empty(0)
        self.rings.put(radii, 0.0035, self.current)
        # from whichever side the finger tips come round to the viewer
        self.hand.put((0, HAND_AT, 0), self.current * WIRE if shown else np.zeros(3), (0.9 if self.current > 0 else -0.9, 0, -0.45))
        self.battery.connect(self["current"])
        self.blade.close(self["switch"])

    # what is read and asked

    def readings(self) -> list[Reading]:
        spot = self.spots[self.chosen : self.chosen + 1]
        wire = self.wire_field(spot)[0]
        level = (wire + self.earth) * [1, 0, 1]
        needle = np.degrees(self.needles.angle[self.chosen])
        size = np.linalg.norm(wire) * 1e6
        return [
            Reading("I", "current, upward positive", minus(self.current, 1), "A"),
            Reading(
                "B", f"field of the wire {IN_WORDS[self['compass']]} it", minus(size, 1), "µT",
                f"B = µ₀ I / (2π r) = {VACUUM_PERMEABILITY * 1e6:.4f} µT m/A × {abs(self.current):.1f} A / (2π × {self.radius:.3f} m) = {size:.1f} µT",
            ),
            Reading("", "its direction there", direction_words(wire) if size > 0 else "none", "", tells=True),
            Reading(
                "R", "wire and Earth together, level part", minus(np.linalg.norm(level) * 1e6, 1), "µT",
                f"the wire's {size:.1f} µT and the Earth's {np.linalg.norm(self.earth * [1, 0, 1]) * 1e6:.1f} µT added as arrows",
                tells=True,
            ),
            Reading(
                "φ", "needle from north, toward west positive", minus((needle + 180) % 360 - 180, 0), "°",
                f"it settles at {minus(np.degrees(self.kind.settles_at(level)[0]), 0)}°" if np.any(level) else "nothing turns it",
                tells=True,
            ),
        ]

    def scales(self) -> dict[str, str]:
        in_microtesla = 0.01 / METRES_PER_TESLA * 1e6
        return {"I": f"10 mm is {0.01 / METRES_PER_AMPERE:.1f} A", "B": f"10 mm is {in_microtesla:.0f} µT", "E": f"10 mm is {in_microtesla:.0f} µT"}

    def says(self) -> str:
        if self.current == 0:
            return "No current flows; the needles lie as the Earth's field has them." if self["earth"] else "No current flows and nothing turns the needles."
        sense = turning_sense(self.current * WIRE, WIRE)
        return (
            f"A current of {abs(self.current):.3g} A flows {direction_words(self.current * WIRE)}; "
            f"seen from above the field goes round the wire {sense}."
        )

    def question(self) -> Question:
        place = self["compass"]
        way = field_direction(self.current * WIRE, PLACES[place])
        answer = direction_words(way)
        no_current = "No current flows." if self["switch"] else "The switch is open: no current flows."
        flowing = f"The current flows {direction_words(self.current * WIRE)} through the table." if self.current else no_current
        if not self.current:
            reason = "A field of the wire needs a current. Without one only the Earth's field is left."
        else:
            sense = turning_sense(self.current * WIRE, WIRE)
            reason = (
                f"Right hand round the wire, thumb {direction_words(self.current * WIRE)} with the current: seen from above the fingers "
                f"curl {sense}, and {IN_WORDS[place]} the wire they point {answer}."
            )
        return Question(
            f"{flowing} Which way does the wire's own field point {IN_WORDS[place]} the wire?",
            tuple((words, words) for words in ("to the right", "to the left", "toward you", "away from you", "nowhere")),
            answer,
            reason,
        )

    def random_setup(self, random) -> dict:
        return {
            "switch": random.random() > 0.12,
            "current": float(random.choice((-1, 1)) * random.randint(10, 50)),
            "compass": random.choice(list(PLACES)),
            "distance": float(random.choice((45, 50, 60, 80))),
        }


def _table():
    """A board with a hole for the wire, on which the compasses lie."""
    return joined(
        block([0, -0.004, 0], [0.31, 0.008, 0.31], palette.WOOD),
        rod([0, 0.0, 0], [0, 0.0006, 0], 0.007, palette.SLATE, 16),
        block([-0.2, -0.012, 0.085], [0.09, 0.008, 0.17], palette.CORD),
    )
