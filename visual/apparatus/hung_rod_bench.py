"""A rod hung on two leads between the poles of a magnet, with its battery and switch, arrows and a left hand."""

from __future__ import annotations

import numpy as np

from visual import palette
from visual.apparatus.circuit import Battery, KnifeSwitch
from visual.apparatus.flux import flux_tubes
from visual.apparatus.magnets import facing_magnets
from visual.apparatus.moving_lead import MovingLead
from visual.apparatus.wiring import Inside, Lead, Terminal
from visual.hand.rule_hand import RuleHand
from visual.solid.mesh import block, joined, rod
from visual.solid.shade import bench_plate, shaded
from visual.solid.solids import Arrow, Group, Letters, Solid

POST = -0.085  # m, where the post stands behind the magnet
FLOOR = -0.082  # m, the top of the base
BESIDE = (-0.122, -0.012, 0.03)  # m, where the hand stands
HAND_AT = {"side": (0.0, -0.012, 0.125)}  # in the views in which that is hidden by the magnet
OFF_THE_ROD = 0.013  # m, from the rod's middle to the arrow of the current, which would else be inside it
SLEEVE = palette.PAPER  # of the rod's marked end


class HungRodBench(Group):
    """gap between the poles and size (3,) of each; the rod's length and radius; the height, metres, of the two rails it hangs
    from above it, each `rail` off the middle; the leads' thickness; flux lines of an upward field, (n, k, 3); and metres for
    each tesla, ampere and newton."""

    def __init__(self, gap: float, pole, rod_size, height: float, rail: float, thickness: float, lines, scales):
        super().__init__()
        self.gap, self.pole, (self.length, radius) = gap, pole, rod_size
        self.add(Solid(_stand(gap / 2 + pole[1], height))).put((0, 0, 0))
        self.magnet = self.add(Solid(_magnet(gap, pole, lines)))
        self.poles = [
            self.add(Letters(letter, palette.PAPER, 24, ground=colour)) for letter, colour in (("N", palette.NORTH), ("S", palette.SOUTH))
        ]
        self.rod = self.add(Solid(marked_rod(self.length / 2, radius)))
        self._wire(height, rail, thickness)
        per_tesla, per_ampere, per_newton = scales
        self.field = self.add(Arrow("B", palette.FIELD, 0.005, per_tesla))
        self.current = self.add(Arrow("I", palette.CURRENT, 0.0068, per_ampere))
        self.force = self.add(Arrow("F", palette.FORCE, 0.0065, per_newton))
        self.hand = self.add(RuleHand("left", 0.085, ("F", "B", "I"), (palette.FORCE, palette.FIELD, palette.CURRENT)))

    def _wire(self, height: float, rail: float, thickness: float) -> None:
        """Battery, left rail, lead, rod, lead, right rail, switch and back to the battery."""
        self.battery = Battery(self, (0.118, FLOOR, -0.07), 0.05)
        self.switch = KnifeSwitch(self, (0.125, FLOOR, 0.0), 0.05)
        rails = []
        for name, side in (("left rail", -1.0), ("right rail", 1.0)):
            back, front = (side * rail, height, POST + 0.012), (side * rail, height, self.length / 2 + 0.008)
            self.add(Solid(rod(back, front, 0.0022, palette.BRASS, 8))).put((0, 0, 0))
            rails.append(Terminal(name, "back", back))
            Inside(self, name, rails[-1], f"{name} hanger")
        self.leads = [
            self.add(MovingLead("left rail hanger", "rod plain end", 3, thickness)),
            self.add(MovingLead("rod marked end", "right rail hanger", 3, thickness)),
        ]
        Inside(self, "rod", "rod plain end", "rod marked end")
        (left, right), up = rails, POST + 0.014
        Lead(
            self,
            self.battery.left,
            left,
            [
                self.battery.terminals[0] + [-0.006, 0.028, -0.012],
                [0.03, FLOOR + 0.006, up],
                [-0.006, FLOOR + 0.03, up],
                [-rail, 0.0, up],
                [-rail, height - 0.02, up],
            ],
        )
        Lead(
            self,
            self.battery.right,
            self.switch.jaw,
            [
                self.battery.terminals[1] + [0.012, 0.026, 0.006],
                self.switch.ends[1] + [0.022, 0.02, -0.03],
                self.switch.ends[1] + [0.01, 0.008, -0.008],
            ],
        )
        Lead(
            self,
            self.switch.hinge,
            right,
            [
                self.switch.ends[0] + [-0.02, 0.012, -0.01],
                [0.06, FLOOR + 0.004, -0.03],
                [0.02, FLOOR + 0.006, up],
                [rail, FLOOR + 0.03, up],
                [rail, 0.0, up],
                [rail, height - 0.02, up],
            ],
        )

    def name_for_tests(self, host) -> None:
        for name, drawn in (
            ("field", self.field.shaft),
            ("current", self.current.shaft),
            ("force", self.force.shaft),
            ("left-hand", self.hand.solid),
            ("rod", self.rod),
            ("magnet", self.magnet),
        ):
            host.name(f"pushed-{name}", drawn.drawn)

    def magnetise(self, sense: float) -> None:
        """A field upward where `sense` is 1, downward where it is -1."""
        self.magnet.put((0, 0, 0), np.diag([1.0, sense, sense]))
        for letters, side in zip(self.poles, (-1.0, 1.0), strict=True):
            letters.put((-self.pole[0] / 2 + 0.012, side * sense * (self.gap / 2 + 0.006), self.pole[2] / 2 + 0.002))

    def connect(self, current: float, closed: bool) -> None:
        """The battery turned so that it drives toward the rod's marked end where `current` is positive; the switch."""
        self.battery.connect(-current)
        self.switch.close(closed)

    def swing(self, ends, turn, leads) -> None:
        """The rod with its `ends`, the marked one last, (2, 3) m, swung by the 3x3 `turn`, and its two leads, each (4, 3) m."""
        self.middle = np.mean(ends, axis=0)
        self.along = (ends[1] - ends[0]) / self.length
        sideways = np.asarray(turn)[:, 0]
        self.off = np.cross(self.along, sideways)  # at right angles to the rod, in the upright plane along it
        self.rod.put(self.middle, np.column_stack([sideways, self.off, self.along]))
        for lead, line in zip(self.leads, leads, strict=True):
            lead.put(line)

    def point_out(self, field, current, force) -> None:
        """The arrows, T, A and N; that of the current beside the rod, on the side from which the field comes."""
        self.field.put(self.middle, field)
        self.current.put(self.middle - np.copysign(OFF_THE_ROD, np.dot(field, self.off) or 1.0) * self.off, current)
        self.force.put(self.middle, force)

    def hold_out(self, view: str, hand) -> None:
        """A left hand beside the poles where it is seen in that view, tied to the rod; None for no hand."""
        self.hand.put(HAND_AT.get(view, BESIDE), hand, self.middle + 0.3 * self.length * self.along)


def marked_rod(half: float, radius: float):
    """A copper rod along z from -half to half with a white sleeve on its marked end, +z."""
    return joined(
        rod([0, 0, -half], [0, 0, half], radius, palette.COPPER, 16),
        rod([0, 0, 0.62 * half], [0, 0, 0.98 * half], radius + 0.0009, SLEEVE, 16),
    )


def _stand(upper: float, height: float):
    """Base, post and the insulating bar between the rails, and what carries the two poles; `upper`: the back of the upper one."""
    bar = height + 0.002
    stands = [(-0.03, POST, 0.01, 0.01), (-0.03, 0.0, 0.03, 0.03)]
    held = joined(
        block([0, (bar + FLOOR) / 2, POST], [0.02, bar - FLOOR, 0.02], palette.SLATE),
        block([0, bar, (POST + 0.035) / 2], [0.012, 0.008, 0.035 - POST], palette.SLATE),
        block([0, upper + 0.005, POST / 2 - 0.02], [0.03, 0.01, -POST + 0.02], palette.SLATE),
        block([0, (FLOOR - upper) / 2, 0], [0.06, -upper - FLOOR, 0.06], palette.SLATE),
    )
    return joined(bench_plate(0.2, 0.13, FLOOR, 0.016, palette.WOOD, stands).moved((0.03, 0, 0)), shaded(held, ground=FLOOR))


def _magnet(gap: float, pole, lines):
    """Both poles with the flux lines between them, the field along y."""
    return joined(facing_magnets(gap, pole, (0, 1.0, 0)), flux_tubes(lines, 0.0011, heads=(0.66,)))
