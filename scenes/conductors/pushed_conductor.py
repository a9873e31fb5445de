"""A conductor with current is pushed out of a field: a rod hung on leads between the poles of a magnet."""

from __future__ import annotations

from functools import cached_property

import numpy as np

from physics.conductors.force_and_emf import force
from physics.conductors.hung_rod import HungRod, Swing
from physics.directions import direction_words, force_direction, left_hand
from physics.fields.block_magnets import gap_field
from physics.fields.flux_lines import flux_lines
from scenes.scene.controls import Choice, Number, Switch, slow_motion
from scenes.scene.scene import Key, Question, Reading, Scene, View, minus
from visual import palette
from visual.apparatus.circuit import Battery, KnifeSwitch, StiffLead, cord
from visual.apparatus.flux import flux_tubes
from visual.apparatus.magnets import block_magnet
from visual.hand.hand_on_bench import FlemingHand
from visual.solid.mesh import block, joined, rod
from visual.solid.solids import Arrow, Group, Letters, Solid

POLE = np.array([0.110, 0.024, 0.110])  # m, each of the two blocks: across the rod, toward the gap, along the rod
GAP = 0.070  # m
POLARISATION = 1.3  # T, of the order of a rare-earth magnet (common practice, no source)
HALF_ROD = 0.023  # m
LEADS = 0.120  # m, from the rod up to the bar it hangs from
REACH = 0.085  # m, how far the stiff leads go out round the upper pole
ALONG_ROD = np.array([0.0, 0.0, 1.0])  # toward the viewer: the way a positive current flows while the rod is level
POST = -0.085  # m, where the post stands behind the magnet
FLOOR = -0.082  # m, the top of the base
METRES_PER_NEWTON = 0.4
METRES_PER_TESLA = 0.03 / 0.26
METRES_PER_AMPERE = 0.1 / 20
BESIDE = (-0.112, -0.012, 0.03)  # m, where the hand stands
HAND_AT = {"side": (0.0, -0.012, 0.125)}  # in the views in which that is hidden by the magnet


class PushedConductor(Scene):
    name = "pushed-conductor"
    title = "A conductor with current is pushed"
    principle = "A current across a field is pushed at right angles to both: the left hand says which way."
    controls = (
        Switch("switch", "Switch closed", True),
        Number("current", "Current toward you", 8.0, "A", -20.0, 20.0, 0.5, role="current"),
        Choice("field", "Field across the rod", "up", (("up", "upward (N pole below)"), ("down", "downward (N pole above)")), role="field"),
        Number("tilt", "Near end of the rod raised", 0.0, "°", -90.0, 90.0, 15.0),
        slow_motion("1"),
    )
    arrows = (
        Key("B", "field at the middle of the rod", palette.HEX["field"]),
        Key("I", "current in the rod", palette.HEX["current"]),
        Key("F", "force on the rod", palette.HEX["force"]),
    )
    views = (
        View("corner", "from the front corner", (-0.56, -0.2, -0.95), (-0.008, 0.008, 0.0), 0.096),
        View("front", "along the rod", (0.0, -0.1, -1.0), (-0.004, 0.015, 0.0), 0.104),
        View("side", "across the rod", (-1.0, -0.1, -0.02), (0.0, 0.015, 0.026), 0.104),
    )
    caution = (
        "Strong magnets snap together and pinch; keep them from watches and pacemakers. Leads that carry ten amperes get hot: "
        "switch on for a moment only, and keep to your local rules."
    )
    narration = "A rod hangs between the poles of a magnet. Switch the current on, and it is pushed out sideways."

    # the physics of this moment

    @property
    def current(self) -> float:
        """Amperes along the rod, positive toward its near end."""
        return self["current"] if self["switch"] else 0.0

    @property
    def sense(self) -> float:
        return 1.0 if self["field"] == "up" else -1.0

    @property
    def along(self) -> np.ndarray:
        """The direction of the rod as it hangs at rest, toward its near end."""
        tilt = np.radians(self["tilt"])
        return np.array([0.0, np.sin(tilt), np.cos(tilt)]).round(15) + 0.0

    @cached_property
    def field(self):
        """The field of the two blocks as a function of points."""
        return gap_field(GAP, POLE, self.sense * POLARISATION, direction=(0, 1, 0))

    @cached_property
    def hung(self) -> HungRod:
        return HungRod(
            ends=HALF_ROD * np.array([-self.along, self.along]), hinge=(0.0, LEADS, 0.0), axis=ALONG_ROD, mass=0.060,
            damping=6e-4, stop=np.radians(20.0),
        )

    @cached_property
    def curve(self):
        """The torque on the hung rod for each ampere, worked out once for each field and tilt."""
        return self.hung.torque_curve(self.field)

    def changed(self, name: str) -> None:
        if name in ("field", "tilt"):
            self.forget("field", "hung", "curve")

    def restart(self) -> None:
        self.swing = Swing()

    def step(self, seconds: float) -> None:
        self.swing = self.hung.swings(self.swing, self.current, self.curve, seconds)

    def moment(self) -> dict:
        """Field, current and force at this moment, and the length in the field that follows from them."""
        path = self.hung.path(self.swing.angle)
        middle = self.field(path.mean(axis=0)[np.newaxis])[0]
        per_ampere = force(path, 1.0, self.field)
        sine = np.linalg.norm(np.cross(self.along, middle)) / np.linalg.norm(middle)
        if sine < 1e-6:  # along the field: not pushed, however long it is; so the length is that of the rod lying level
            per_ampere = np.zeros(3)
            level = path.mean(axis=0) + HALF_ROD * np.array([-ALONG_ROD, ALONG_ROD])
            length = np.linalg.norm(force(level, 1.0, self.field)) / np.linalg.norm(middle)
        else:
            length = np.linalg.norm(per_ampere) / (np.linalg.norm(middle) * sine)
        return {
            "middle": path.mean(axis=0), "field": middle, "force": self.current * per_ampere, "sine": sine, "length": length,
        }

    # what is drawn

    def build(self, host) -> None:
        group = self.drawn = Group()
        group.add(Solid(_stand())).put((0, 0, 0))
        self.magnet = group.add(Solid(_magnet()))
        self.poles = [group.add(Letters(letter, palette.PAPER, 24, ground=colour))
                      for letter, colour in (("N", palette.NORTH), ("S", palette.SOUTH))]
        self.rod = group.add(Solid(rod([0, 0, -HALF_ROD], [0, 0, HALF_ROD], 0.004, palette.COPPER, 12)))
        self.leads = [StiffLead(group, LEADS, REACH + end * 0.004) for end in (-1, 1)]
        self.battery = Battery(group, (0.15, FLOOR, -0.03), 0.05)
        self.blade = KnifeSwitch(group, (0.15, FLOOR, 0.05), 0.05)
        left, right = self.battery.terminals
        first, second = self.blade.ends
        group.add(Solid(joined(
            cord([left, left + [-0.01, 0.03, -0.02], [0.08, FLOOR + 0.01, POST], [0.0, FLOOR + 0.01, POST + 0.01], [0.0, 0.0, POST + 0.01]], 0.0035),
            cord([right, right + [0.03, 0.02, 0.01], second + [0.03, 0.02, -0.02], second], 0.0035),
            cord([first, first + [-0.03, 0.0, -0.02], [0.08, FLOOR + 0.004, POST + 0.03], [0.01, FLOOR + 0.01, POST], [0.011, 0.0, POST]], 0.0035),
        ))).put((0, 0, 0))
        self.field_arrow = group.add(Arrow("B", palette.FIELD, 0.005, METRES_PER_TESLA))
        self.current_arrow = group.add(Arrow("I", palette.CURRENT, 0.0068, METRES_PER_AMPERE))
        self.force_arrow = group.add(Arrow("F", palette.FORCE, 0.0065, METRES_PER_NEWTON))
        self.hand = group.add(FlemingHand("left", 0.085, ("F", "B", "I"), (palette.FORCE, palette.FIELD, palette.CURRENT)))
        for name, drawn in (("field", self.field_arrow.shaft), ("current", self.current_arrow.shaft), ("force", self.force_arrow.shaft),
                            ("left-hand", self.hand.solid), ("rod", self.rod), ("magnet", self.magnet)):
            host.name(f"pushed-{name}", drawn.drawn)

    def draw(self) -> None:
        now, shown = self.moment(), self.answers_shown
        self.magnet.put((0, 0, 0), np.diag([1.0, self.sense, self.sense]))
        for letters, side in zip(self.poles, (-1.0, 1.0)):
            letters.put((-POLE[0] / 2 + 0.012, side * self.sense * (GAP / 2 + 0.006), POLE[2] / 2 + 0.002))
        c, s = np.cos(self.swing.angle), np.sin(self.swing.angle)
        swung = np.array([[c, -s, 0], [s, c, 0], [0, 0, 1.0]])
        along = swung @ self.along
        self.rod.put(now["middle"], np.column_stack([swung[:, 0], np.cross(along, swung[:, 0]), along]))
        for lead, end in zip(self.leads, (-1, 1)):
            lead.put((0, LEADS, 0), swung, end * HALF_ROD * self.along)
        self.field_arrow.put(now["middle"], now["field"])
        self.current_arrow.put(now["middle"], self.current * along)
        self.force_arrow.put(now["middle"], now["force"] if shown else np.zeros(3))
        hand = left_hand(now["field"], self.current * along)
        self.hand.put(HAND_AT.get(self.view, BESIDE), hand if shown and np.any(now["force"]) else None, now["middle"] + 0.9 * HALF_ROD * along)
        self.battery.connect(-self["current"])
        self.blade.close(self["switch"])

    # what is read and asked

    def readings(self) -> list[Reading]:
        now = self.moment()
        size, sideways = np.linalg.norm(now["field"]), np.linalg.norm(now["force"])
        degrees = np.degrees(np.arctan2(now["sine"], np.sign(self.current or 1.0) * now["field"] @ self.along / size))
        settled = np.degrees(self.hung.settles_at(self.current, self.curve))
        return [
            Reading("F", "force on the rod", minus(sideways * 1000, 1), "mN",
                    f"F = B I l sin θ = {size:.4f} T × {abs(self.current):.1f} A × {now['length']:.4f} m × {now['sine']:.3f} = {sideways * 1000:.1f} mN",
                    tells=True),
            Reading("δ", "deflection, to the right positive", minus(np.degrees(self.swing.angle), 1), "°",
                    f"it settles at {minus(settled, 1)}°, where field and weight balance", tells=True),
            Reading("B", "field at the middle of the rod", minus(size * 1000, 0), "mT", f"it points {direction_words(now['field'])}"),
            Reading("I", "current, toward you positive", minus(self.current, 1), "A"),
            Reading("l", "length in the field", minus(now["length"] * 1000, 1), "mm",
                    "the length on which an even field as strong as at the middle would push as hard"),
            Reading("θ", "angle from current to field", minus(degrees, 0), "°", f"sin θ = {now['sine']:.3f}"),
        ]

    def scales(self) -> dict[str, str]:
        return {
            "B": f"10 mm is {0.01 / METRES_PER_TESLA * 1000:.0f} mT",
            "I": f"10 mm is {0.01 / METRES_PER_AMPERE:.1f} A",
            "F": f"10 mm is {0.01 / METRES_PER_NEWTON * 1000:.0f} mN",
        }

    def says(self) -> str:
        now = self.moment()
        if not self.current:
            return "No current flows and nothing pushes the rod."
        way = direction_words(force_direction(now["field"], self.current * self.along))
        pushed = f"the rod is pushed {way}" if way != "nowhere" else "the rod is not pushed"
        return (f"The current flows {direction_words(self.current * self.along)}, the field points {direction_words(now['field'])}: "
                f"{pushed}.")

    def question(self) -> Question:
        field = self.sense * np.array([0.0, 1.0, 0.0])
        current = self.current * self.along
        answer = direction_words(force_direction(field, current))
        flowing = f"The current flows {direction_words(current)}" if self.current else "No current flows"
        if self["tilt"] % 45:  # between the directions that have a name
            flowing += f", the rod's near end {abs(self['tilt']):g}° {'above' if self['tilt'] > 0 else 'below'} level"
        reason = left_hand(field, current).words() if self.current else "Without a current nothing is pushed."
        return Question(
            f"{flowing}, the field points {direction_words(field)}. Which way is the rod pushed?",
            tuple((words, "it is not pushed" if words == "nowhere" else words) for words in ("to the left", "to the right", "up", "down", "nowhere")),
            answer,
            reason,
        )

    def random_setup(self, random) -> dict:
        return {
            "current": float(random.choice((-1, 1)) * random.randint(6, 16)),
            "field": random.choice(("up", "down")),
            "tilt": float(random.choice((0, 0, 0, 45, -45, 90, -90))),
        }


def _stand():
    """Base, post and the bar from which the rod hangs, and what carries the two poles."""
    bar, upper = LEADS + 0.004, GAP / 2 + POLE[1]
    return joined(
        block([0.03, FLOOR - 0.008, 0], [0.4, 0.016, 0.26], palette.WOOD),
        block([0, (bar + FLOOR) / 2, POST], [0.02, bar - FLOOR, 0.02], palette.SLATE),
        rod([0, bar, POST], [0, bar, HALF_ROD + 0.012], 0.005, palette.SLATE, 10),
        block([0, upper + 0.005, POST / 2 - 0.02], [0.03, 0.01, -POST + 0.02], palette.SLATE),
        block([0, (FLOOR - upper) / 2, 0], [0.06, -upper - FLOOR, 0.06], palette.SLATE),
    )


def _magnet():
    """Both poles with the flux lines between them, the field along y."""
    far = GAP / 2 + POLE[1] / 2
    starts = [(x, -GAP / 2 + 0.0005, side * 0.034) for x in (-0.04, -0.02, 0.02, 0.04) for side in (-1, 1)]
    lines = flux_lines(gap_field(GAP, POLE, POLARISATION, direction=(0, 1, 0)), np.array(starts), GAP - 0.001, points=17)
    return joined(
        *[block_magnet((0, end * far, 0), POLE, (0, 1.0, 0)) for end in (-1, 1)], flux_tubes(lines, 0.0011, heads=(0.66,))
    )
