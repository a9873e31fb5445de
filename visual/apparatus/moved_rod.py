"""A rod moved through the gap of a magnet, connected by flexible leads to its meter and a resistor; arrows and a right hand."""

from __future__ import annotations

import numpy as np

from visual import palette
from visual.apparatus.circuit import KnifeSwitch
from visual.apparatus.flux import flux_tubes
from visual.apparatus.hung_rod_bench import marked_rod
from visual.apparatus.magnets import facing_magnets
from visual.apparatus.meter import Meter
from visual.apparatus.moving_lead import MovingLead, hanging
from visual.apparatus.wiring import Inside, Lead, Terminal
from visual.hand.hand_on_bench import FlemingHand
from visual.solid.mesh import block, joined, rod
from visual.solid.solids import Arrow, Group, Letters, Solid

FRONT = 0.042  # m before the middle of the rod, where the arrows stand free of the poles
EMF_AT_FULL_SCALE = 0.09  # m
METRES_PER_TESLA = 0.04 / 0.077
METRES_PER_SPEED = 0.1  # m for each m/s
METRES_PER_NEWTON = 0.12
ALONG_ROD = np.array([0.0, 0.0, 1.0])
UNDER_THE_ROD = np.array([0.0, -0.018, 0.0])  # m: along the rod, and yet seen
BOARD, POST = -0.073, -0.125  # m, the top of the board; where the stay stands behind the magnet
ENAMEL = (0.55, 0.30, 0.16)
PIECES = 10  # of each flexible lead
SINGLE, CABLE = 0.0034, 0.0075  # m, how thick a lead is: one wire, and the wires of several turns side by side


class MovedRod(Group):
    """The rod reaches `half_rod` metres to either side of its middle, along z, its marked end toward +z. The poles stand a
    `gap` apart above and below it, each `pole` (2,) metres across and high. `lines`: flux lines of an upward field, each
    (n, k, 3), by the names of the depths that the poles can have."""

    def __init__(self, gap: float, pole, half_rod: float, lines: dict):
        super().__init__()
        self.gap, self.pole, self.half = gap, pole, half_rod
        self.add(Solid(_stand(gap / 2 + pole[1]))).put((0, 0, 0))
        self.magnet = self.add(Solid(_magnet(gap, pole)))
        self.lines = {name: self.add(Solid(flux_tubes(each, 0.0012, heads=(0.7,)))) for name, each in lines.items()}
        self.poles = [
            self.add(Letters(letter, palette.PAPER, 24, ground=colour)) for letter, colour in (("N", palette.NORTH), ("S", palette.SOUTH))
        ]
        self.rod = self.add(Solid(_carried(marked_rod(half_rod, 0.004), half_rod)))
        self.bundle = self.add(Solid(_carried(_bundle(half_rod), half_rod)))
        self._wire()
        self.field = self.add(Arrow("B", palette.FIELD, 0.007, METRES_PER_TESLA))
        self.motion = self.add(Arrow("v", palette.MOTION, 0.007, METRES_PER_SPEED))
        self.emf = self.add(Arrow("E", palette.EMF, 0.007))
        self.force = self.add(Arrow("F", palette.FORCE, 0.007, METRES_PER_NEWTON))
        self.hand = self.add(FlemingHand("right", 0.09, ("v", "B", "E"), (palette.MOTION, palette.FIELD, palette.EMF)))

    def _wire(self) -> None:
        """Marked end, meter + , meter −, plain end; beside the meter a switch and a resistor."""
        self.meter = Meter(self, (0.135, 0.005, 0.0), 0.085, "V")
        plus, minus = Terminal("meter", "+", (0.090, -0.054, 0.018)), Terminal("meter", "\N{MINUS SIGN}", (0.202, -0.054, -0.004))
        self.add(Solid(_foot(plus.at, minus.at))).put((0, 0, 0))
        for terminal, off in ((plus, (0.0, 0.012, 0.006)), (minus, (0.004, 0.013, 0.0))):
            self.add(Letters(terminal.marking, palette.INK, 18, ground=palette.PAPER)).put(np.array(terminal.at) + off)
        Inside(self, "meter", plus, minus)
        Inside(self, "rod", "rod plain end", "rod marked end")
        self.leads = [
            self.add(MovingLead("rod marked end", plus, PIECES, SINGLE)),
            self.add(MovingLead(minus, "rod plain end", PIECES, SINGLE)),
        ]
        self.turns = self.add(Letters("", palette.INK, 15, ground=palette.PAPER))
        self.turns.put((0.146, -0.056, 0.016))
        self.switch = KnifeSwitch(self, (0.098, BOARD, 0.075), 0.048)
        left, right = Terminal("resistor", "1", (0.138, BOARD + 0.012, 0.075)), Terminal("resistor", "2", (0.202, BOARD + 0.012, 0.075))
        self.add(Solid(_resistor(left.at, right.at))).put((0, 0, 0))
        Inside(self, "resistor", left, right)
        Lead(self, plus, self.switch.hinge, [(0.083, -0.056, 0.03), (0.074, -0.058, 0.06)], 0.003)
        Lead(self, self.switch.jaw, left, [], 0.003)
        Lead(self, right, minus, [(0.208, -0.062, 0.06), (0.212, -0.06, 0.02)], 0.003)

    def name_for_tests(self, host) -> None:
        for name, part in (
            ("field", self.field.shaft),
            ("motion", self.motion.shaft),
            ("emf", self.emf.shaft),
            ("force", self.force.shaft),
            ("right-hand", self.hand.solid),
            ("rod", self.rod),
            ("meter", self.meter.needle),
        ):
            host.name(f"moved-{name}", part.drawn)

    def magnetise(self, name: str, depth: float, sense: float) -> None:
        """Poles of the depth of that name, `depth` metres, with a field upward where `sense` is 1, downward where -1."""
        turn = np.diag([1.0, sense, sense])
        self.magnet.put((0, 0, 0), turn, (1.0, 1.0, depth))
        for each, lines in self.lines.items():
            lines.put((0, 0, 0), turn)
            lines.visible = each == name
        for letters, side in zip(self.poles, (-1.0, 1.0), strict=True):
            letters.put((-self.pole[0] / 2 + 0.008, side * sense * (self.gap / 2 + 0.0075), depth / 2 + 0.003))

    def wind(self, turns: int) -> None:
        """One rod of copper, or a bundle of so many wires; their other ways back lie in the two cables and are joined in the foot."""
        self.rod.visible, self.bundle.visible = turns == 1, turns > 1
        self.turns.text = f"{turns} in series" if turns > 1 else ""
        self.turns.visible = turns > 1
        for lead in self.leads:
            lead.thickness = CABLE if turns > 1 else SINGLE

    def connect(self, closed: bool) -> None:
        """The resistor's switch."""
        self.switch.close(closed)

    def move(self, middle, field, motion, emf: float, full_scale: float, force) -> None:
        """The rod with its middle there, (3,); field, motion and force as vectors, T, m/s and N; its EMF toward the marked end, V,
        and the volts for which its arrow has its full length."""
        self.middle = np.asarray(middle)
        self.rod.put(middle)
        self.bundle.put(middle)
        before_the_gap = self.middle + FRONT * ALONG_ROD
        self.field.put(before_the_gap, field)
        self.motion.put(before_the_gap, motion)
        self.emf.metres_per_unit = EMF_AT_FULL_SCALE / full_scale
        self.emf.put(before_the_gap + UNDER_THE_ROD, emf * ALONG_ROD)
        self.force.put(self.middle - 0.02 * ALONG_ROD, force)
        marked, plain = self.middle + self.half * ALONG_ROD, self.middle - (self.half + 0.006) * ALONG_ROD
        self.leads[0].put(hanging(marked, self.leads[0].second.at, (0.035, -0.03, 0.045), (-0.01, 0.0, -0.05), PIECES))
        self.leads[1].put(hanging(self.leads[1].first.at, plain, (0.035, 0.0, -0.06), (-0.05, 0.035, 0.02), PIECES))

    def hold_out(self, hand) -> None:
        """A right hand beside the poles, tied to the rod; None for no hand."""
        self.hand.put((-0.125, 0.012, 0.03), hand, self.middle + 0.03 * ALONG_ROD)

    def measure(self, share: float, full_scale: str) -> None:
        """What the meter shows, as a part of its full scale, which is written on it."""
        self.meter.show(share)
        self.meter.mark(f"\N{MINUS SIGN}{full_scale}", "0", full_scale)


def _stand(far: float):
    """A board with a stay that holds the lower magnet and one that holds the upper; their backs are `far` from the rod."""
    return joined(
        block([0.035, BOARD - 0.007, -0.01], [0.4, 0.014, 0.27], palette.WOOD),
        block([0, (BOARD - far) / 2, 0], [0.05, -BOARD - far, 0.02], palette.SLATE),
        block([-0.01, 0.0, POST], [0.02, 0.16, 0.01], palette.SLATE),
        block([-0.01, far + 0.006, (POST + 0.01) / 2], [0.02, 0.012, 0.02 - POST], palette.SLATE),
    )


def _magnet(gap: float, pole):
    """The two blocks with the gap between them, one metre long along the rod: the depth of the poles stretches them."""
    return facing_magnets(gap, (*pole, 1.0), (0, 1.0, 0))


def _bundle(half: float):
    """Enamelled wires side by side, taped together, with the white sleeve of the marked end."""
    tape = [rod([0, 0, at * half - 0.004], [0, 0, at * half + 0.004], 0.0066, palette.SLATE, 12) for at in (-0.7, 0.0, 0.5)]
    return joined(
        rod([0, 0, -half], [0, 0, half], 0.006, ENAMEL, 12), rod([0, 0, 0.62 * half], [0, 0, 0.98 * half], 0.0068, palette.PAPER, 12), *tape
    )


def _carried(conductor, half: float):
    """A conductor with the insulating grip by which it is moved."""
    return joined(conductor, block([0, 0, -half - 0.002], [0.016, 0.016, 0.012], palette.CORD))


def _foot(plus, minus):
    """The box on which the meter stands, with its two terminals."""
    return joined(
        block([0.145, (BOARD - 0.0375) / 2, -0.004], [0.112, -0.0375 - BOARD, 0.03], palette.SLATE),
        rod([plus[0], plus[1], 0.008], [*plus[:2], plus[2] + 0.002], 0.004, palette.BRASS, 10),
        rod([minus[0] - 0.004, *minus[1:]], [minus[0] + 0.002, *minus[1:]], 0.004, palette.BRASS, 10),
    )


def _resistor(left, right):
    """A wound resistor on two blocks, between its ends."""
    left, right = np.array(left), np.array(right)
    inward = np.array([0.012, 0, 0])
    return joined(
        rod(left, right, 0.0022, palette.STEEL, 8),
        rod(left + inward, right - inward, 0.009, palette.IRON, 14),
        *[
            block([end[0], (end[1] + BOARD) / 2, end[2]], [0.008, end[1] - BOARD, 0.012], palette.CORD)
            for end in (left + inward / 2, right - inward / 2)
        ],
    )
