"""A conductor with current is pushed out of a field: a rod hung on leads between the poles of a magnet."""

from __future__ import annotations

from functools import cached_property

import numpy as np

from physics.block_magnets import gap_field
from physics.conductors import force
from physics.directions import direction_words, force_direction, left_hand
from physics.flux_lines import flux_lines
from physics.hung_rod import HungRod, Swing
from scenes.scene import Choice, Key, Number, Question, Reading, Scene, Switch, View, minus, slow_motion
from visual import palette
from visual.circuit import Battery, KnifeSwitch, cord
from visual.flux import flux_tubes
from visual.hand_on_bench import FlemingHand
from visual.magnets import block_magnet
from visual.mesh import block, joined, rod
from visual.solids import Arrow, Group, Letters, Solid

# Each pole is a fork of two blocks, so that the rod can pass between them when the magnet is turned along it.
TINE = np.array([0.030, 0.040, 0.024])  # m, across the swing, toward the gap, along the rod
TINE_OFFSET = 0.026  # m, from the middle to the middle of a tine
GAP = 0.050  # m
POLARISATION = 1.3  # T, of the order of a rare-earth magnet (common practice, no source)
LEADS = 0.14  # m
HALF_ROD = 0.085  # m
POST = HALF_ROD + 0.03  # m, from the middle to the post of the stand
ALONG_ROD = np.array([0.0, 0.0, 1.0])  # toward the viewer: the way a positive current flows
HUNG = HungRod(
    ends=HALF_ROD * np.array([-ALONG_ROD, ALONG_ROD]), hinge=(0.0, LEADS, 0.0), axis=ALONG_ROD, mass=0.05,
    damping=6e-4, stop=np.radians(25.0),
)
FRONT = 0.042  # m before the middle of the rod, where the arrows stand free of the poles
METRES_PER_NEWTON = 0.1 / 0.1
METRES_PER_TESLA = 0.06 / 0.15
METRES_PER_AMPERE = 0.1 / 20


def fork_field(polarisation: float):
    """The field of both forks with the gap along y; a function of points."""
    tines = [gap_field(GAP, TINE, polarisation, (side * TINE_OFFSET, 0, 0), (0, 1, 0)) for side in (-1, 1)]
    return lambda points: tines[0](points) + tines[1](points)


class PushedConductor(Scene):
    name = "pushed-conductor"
    title = "A conductor with current is pushed"
    principle = "A conductor that carries a current across a field is pushed at right angles to both: left hand, first finger field, second finger current, thumb push."
    controls = (
        Switch("switch", "Switch closed", True),
        Number("current", "Current toward you", 8.0, "A", -20.0, 20.0, 0.5, role="current"),
        Choice("field", "Field across the rod", "up", (("up", "upward (N pole below)"), ("down", "downward (N pole above)")), role="field"),
        Number("angle", "Angle from current to field", 90.0, "°", 0.0, 180.0, 15.0),
        slow_motion("1"),
    )
    arrows = (
        Key("B", "field at the middle of the rod", palette.HEX["field"]),
        Key("I", "current in the rod", palette.HEX["current"]),
        Key("F", "force on the rod", palette.HEX["force"]),
    )
    views = (
        View("corner", "from the front corner", (-0.7, -0.34, -0.9), (0.0, 0.02, 0.0), 0.112),
        View("front", "along the rod", (0.0, -0.1, -1.0), (0.01, 0.03, 0.0), 0.12),
        View("side", "across the rod", (-1.0, -0.1, -0.02), (0.0, 0.03, 0.0), 0.12),
    )
    caution = (
        "Strong magnets snap together and pinch; keep them from watches and pacemakers. Leads that carry ten amperes get hot: "
        "switch on for a moment only, and keep to your local rules."
    )
    narration = "A rod hangs between the poles of a magnet. Switch the current on, and it is pushed out sideways."

    def __init__(self):
        self.upright = fork_field(POLARISATION)
        super().__init__()

    # the physics of this moment

    @property
    def current(self) -> float:
        """Amperes toward the viewer."""
        return self["current"] if self["switch"] else 0.0

    @property
    def rotation(self) -> np.ndarray:
        """How the magnet stands: turned about x, so that its field makes the set angle with the rod."""
        angle = np.radians(self["angle"])
        sense = 1.0 if self["field"] == "up" else -1.0
        upward = sense * np.sin(angle) * np.array([0.0, 1.0, 0.0]) + np.cos(angle) * ALONG_ROD
        return np.column_stack([[1.0, 0, 0], upward, np.cross([1.0, 0, 0], upward)])

    def field(self, points) -> np.ndarray:
        turn = self.rotation
        return self.upright(np.asarray(points) @ turn) @ turn.T

    @cached_property
    def curve(self):
        """The torque on the hung rod for each ampere, worked out once for each stand of the magnet."""
        return HUNG.torque_curve(self.field)

    def changed(self, name: str) -> None:
        if name in ("field", "angle"):
            self.__dict__.pop("curve", None)

    def restart(self) -> None:
        self.swing = Swing()

    def revealed(self) -> None:
        self.restart()

    def step(self, seconds: float) -> None:
        self.swing = HUNG.swings(self.swing, self.current, self.curve, seconds)

    def moment(self) -> dict:
        """Field, current and force at this moment, and the length in the field that follows from them."""
        path = HUNG.path(self.swing.angle)
        middle = self.field(path.mean(axis=0)[np.newaxis])[0]
        per_ampere = force(path, 1.0, self.field)
        sine = np.linalg.norm(np.cross(ALONG_ROD, middle)) / np.linalg.norm(middle)
        across = np.linalg.norm(per_ampere) if sine > 1e-6 else 0.0
        return {
            "middle": path.mean(axis=0), "field": middle, "force": self.current * per_ampere * (across > 0), "sine": sine,
            "length": across / (np.linalg.norm(middle) * sine) if across else 0.0,
        }

    # what is drawn

    def build(self, host) -> None:
        group = self.drawn = Group()
        group.add(Solid(_stand())).put((0, 0, 0))
        self.magnet = group.add(Solid(_magnet(self.upright)))
        self.poles = [group.add(Letters(letter, palette.PAPER, 24, ground=colour))
                      for letter, colour in (("N", palette.NORTH), ("S", palette.SOUTH))]
        self.hung = group.add(Solid(_hung_rod()))
        self.battery = Battery(group, (0.15, -0.085, -0.05), 0.05)
        self.blade = KnifeSwitch(group, (0.15, -0.085, 0.04), 0.05)
        left, right = self.battery.terminals
        first, second = self.blade.ends
        group.add(Solid(joined(
            cord([left, left + [-0.01, 0.03, -0.03], [0.04, -0.08, -POST], [0.0, -0.08, -POST + 0.011], [0.0, -0.03, -POST + 0.011]], 0.0035),
            cord([right, right + [0.03, 0.02, 0.01], second + [0.03, 0.02, -0.02], second], 0.0035),
            cord([first, first + [-0.02, 0.01, -0.01], [0.05, -0.08, -POST + 0.02], [0.02, -0.08, -POST], [0.011, -0.03, -POST]], 0.0035),
        ))).put((0, 0, 0))
        self.field_arrow = group.add(Arrow("B", palette.FIELD, 0.007, METRES_PER_TESLA))
        self.current_arrow = group.add(Arrow("I", palette.CURRENT, 0.0085, METRES_PER_AMPERE))
        self.force_arrow = group.add(Arrow("F", palette.FORCE, 0.008, METRES_PER_NEWTON))
        self.hand = group.add(FlemingHand("left", 0.1, ("F", "B", "I"), (palette.FORCE, palette.FIELD, palette.CURRENT)))
        for name, drawn in (("field", self.field_arrow.shaft), ("current", self.current_arrow.shaft), ("force", self.force_arrow.shaft),
                            ("left-hand", self.hand.solid), ("rod", self.hung), ("magnet", self.magnet)):
            host.name(f"pushed-{name}", drawn.drawn)

    def draw(self) -> None:
        now, shown = self.moment(), self.answers_shown
        turn = self.rotation
        self.magnet.put((0, 0, 0), turn)
        for letters, side in zip(self.poles, (-1.0, 1.0)):
            letters.put(turn @ np.array([TINE_OFFSET, side * (GAP / 2 + 0.007), TINE[2] / 2 + 0.004]))
        c, s = np.cos(self.swing.angle), np.sin(self.swing.angle)
        self.hung.put((0, LEADS, 0), np.array([[c, -s, 0], [s, c, 0], [0, 0, 1.0]]))
        ahead = now["middle"] + FRONT * ALONG_ROD
        self.field_arrow.put(ahead, now["field"])
        self.current_arrow.put(ahead, self.current * ALONG_ROD)
        self.force_arrow.put(ahead, now["force"] if shown else np.zeros(3))
        hand = left_hand(now["field"], self.current * ALONG_ROD)
        seen = shown and hand.shows_something and np.any(now["force"])
        self.hand.put((-0.105, 0.0, 0.085), *((hand.thumb, hand.first_finger, hand.second_finger) if seen else np.zeros((3, 3))))
        self.battery.connect(-self["current"])
        self.blade.close(self["switch"])

    # what is read and asked

    def readings(self) -> list[Reading]:
        now = self.moment()
        size, sideways = np.linalg.norm(now["field"]), np.linalg.norm(now["force"])
        degrees = np.degrees(np.arctan2(now["sine"], now["field"] @ ALONG_ROD / size))
        settled = np.degrees(HUNG.settles_at(self.current, self.curve))
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
            return "No current flows and the rod hangs straight down."
        way = direction_words(force_direction(now["field"], self.current * ALONG_ROD))
        pushed = f"the rod is pushed {way}" if way != "nowhere" else "the rod is not pushed"
        return (f"The current flows {direction_words(self.current * ALONG_ROD)}, the field points {direction_words(now['field'])}: "
                f"{pushed}.")

    def question(self) -> Question:
        field = self.rotation @ np.array([0.0, 1.0, 0.0])
        current = self.current * ALONG_ROD
        answer = direction_words(force_direction(field, current))
        flowing = f"The current flows {direction_words(current)}" if self.current else "No current flows"
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
            "angle": float(random.choice((90, 90, 90, 60, 45, 120, 135, 0, 180))),
        }


def _stand():
    """Base, post and the bar from which the rod hangs, well clear of the magnet however it is turned."""
    bar = LEADS + 0.004
    return joined(
        block([0.02, -0.095, 0], [0.44, 0.02, 0.28], palette.WOOD),
        block([0, (bar - 0.085) / 2, -POST], [0.016, bar + 0.085, 0.016], palette.SLATE),
        rod([0, bar, -POST], [0, bar, 0.085], 0.005, palette.SLATE, 10),
        block([-0.068, -0.045, 0], [0.012, 0.09, 0.02], palette.SLATE),
        rod([-0.075, 0, 0], [-0.055, 0, 0], 0.012, palette.STEEL, 12),
    )


def _magnet(field):
    """Both forks in their clamp with the flux lines of their field, the field along y."""
    far = GAP / 2 + TINE[1] / 2
    tines = [block_magnet((side * TINE_OFFSET, end * far, 0), TINE, (0, 1.0, 0)) for side in (-1, 1) for end in (-1, 1)]
    outer = GAP / 2 + TINE[1]
    clamp = [
        block([-0.052, 0, 0], [0.008, 2 * outer, 0.016], palette.STEEL),
        *[block([-0.005, end * (outer + 0.004), 0], [0.102, 0.008, 0.02], palette.STEEL) for end in (-1, 1)],
    ]
    starts = [(x, -GAP / 2 + 0.0005, z) for x in (-0.034, -0.018, 0.018, 0.034) for z in (-0.008, 0.008)]
    lines = flux_lines(field, np.array(starts), GAP - 0.001, points=17)
    return joined(*tines, *clamp, flux_tubes(lines, 0.0011, heads=(0.62,)))


def _hung_rod():
    """The rod and its two leads, the hinge at the origin."""
    ends = (0.075, -0.075)
    return joined(
        rod([0, -LEADS, -HALF_ROD], [0, -LEADS, HALF_ROD], 0.004, palette.COPPER, 12),
        *[rod([0, 0, z], [0, -LEADS, z], 0.0012, palette.CORD, 6) for z in ends],
    )
