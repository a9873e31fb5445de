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
from visual.apparatus.wiring import Inside, Lead, Terminal, cord
from visual.hand.rule_hand import RuleHand
from visual.solid.mesh import block, joined, rod
from visual.solid.shade import bench_plate, shaded
from visual.solid.solids import Arrow, Group, Letters, Solid
from visual.solid.told import Told, point

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
MOST_TURNS, STRAND = 12, 0.0034  # wires that are drawn at most, and m across each
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
        self.bundles = {turns: self.add(Solid(_carried(bundle(half_rod, turns), half_rod))) for turns in range(2, MOST_TURNS + 1)}
        self.bundle, self.wound = self.bundles[2], 1
        self._wire()
        self.field = self.add(Arrow("B", palette.FIELD, 0.007, METRES_PER_TESLA))
        self.motion = self.add(Arrow("v", palette.MOTION, 0.007, METRES_PER_SPEED))
        self.emf = self.add(Arrow("E", palette.EMF, 0.007))
        self.force = self.add(Arrow("F", palette.FORCE, 0.007, METRES_PER_NEWTON))
        self.hand = self.add(RuleHand("right", 0.09, ("v", "B", "E"), (palette.MOTION, palette.FIELD, palette.EMF)))

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
        """One rod of copper, or one side of a coil of so many turns, up to `MOST_TURNS` of them drawn; the turns go back in the two
        cables and are joined, each to the next, in the foot."""
        self.wound = turns
        self.bundle = self.bundles[min(max(turns, 2), MOST_TURNS)]
        self.rod.visible = turns == 1
        for each in self.bundles.values():
            each.visible = turns > 1 and each is self.bundle
        self.turns.text = "" if turns == 1 else f"{turns} turns" if turns <= MOST_TURNS else f"{turns} turns, {MOST_TURNS} drawn"
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

    def tell(self, found: Told) -> None:
        """How many wires are drawn side by side, at the middle of the rod."""
        found.marks.append((f"wires drawn side by side: {min(self.wound, MOST_TURNS)} of {self.wound}", point(self.middle), 0))

    def hold_out(self, hand) -> None:
        """A right hand beside the poles, tied to the rod; None for no hand."""
        self.hand.put((-0.125, 0.012, 0.03), hand, self.middle + 0.03 * ALONG_ROD)

    def measure(self, share: float, full_scale: str) -> None:
        """What the meter shows, as a part of its full scale, which is written on it."""
        self.meter.show(share)
        self.meter.mark(f"\N{MINUS SIGN}{full_scale}", "0", full_scale)


def _stand(far: float):
    """A board with a stay that holds the lower magnet and one that holds the upper; their backs are `far` from the rod."""
    across, along = 0.035, -0.01  # m, of the middle of the board
    standing = [
        (0, 0, 0.025, 0.020),
        (-0.01, POST, 0.010, 0.005),
        (0.145, -0.004, 0.056, 0.015),
        (0.098, 0.075, 0.029, 0.010),
        (0.17, 0.075, 0.034, 0.006),
    ]
    stands = [(x - across, z - along, half_x, half_z) for x, z, half_x, half_z in standing]
    stays = joined(
        block([0, (BOARD - far) / 2, 0], [0.05, -BOARD - far, 0.02], palette.SLATE),
        block([-0.01, 0.0, POST], [0.02, 0.16, 0.01], palette.SLATE),
        block([-0.01, far + 0.006, (POST + 0.01) / 2], [0.02, 0.012, 0.02 - POST], palette.SLATE),
    )
    return joined(bench_plate(0.2, 0.135, BOARD, 0.014, palette.WOOD, stands).moved((across, 0, along)), shaded(stays, ground=BOARD))


def _magnet(gap: float, pole):
    """The two blocks with the gap between them, one metre long along the rod: the depth of the poles stretches them."""
    return facing_magnets(gap, (*pole, 1.0), (0, 1.0, 0))


def bundle(half: float, turns: int):
    """One side of a coil: so many enamelled wires side by side, each to be counted, drawn together into the cables at both ends,
    with the white sleeve of the marked end round them."""
    places = _packed(turns)
    reach = float(np.hypot(*places.T).max()) + STRAND / 2
    tie = [rod([0, 0, at * half - 0.0025], [0, 0, at * half + 0.0025], reach + 0.0006, palette.SLATE, 14) for at in (-0.72, 0.5)]
    sleeve = rod([0, 0, 0.66 * half], [0, 0, 0.86 * half], reach + 0.0008, palette.PAPER, 14)
    return joined(*[_strand(half, place) for place in places], sleeve, *tie)


def _packed(turns: int) -> np.ndarray:
    """Where the wires of a bundle lie across it, (turns, 2): row upon row, each half a wire on."""
    rows = int(np.ceil(np.sqrt(turns)))
    pitch = 1.12 * STRAND
    places = []
    for wire in range(turns):
        row, column = divmod(wire, rows)
        places.append((pitch * (column + 0.5 * (row % 2)), pitch * 0.87 * row))
    return np.array(places) - np.mean(places, axis=0)


def _strand(half: float, place):
    """One wire of the bundle: along the rod, and at both ends into the cable."""
    x, y = place
    ends = [[[0.3 * x, 0.3 * y, end * half], [x, y, end * 0.88 * half]] for end in (-1.0, 1.0)]
    return cord([*ends[0], *ends[1][::-1]], STRAND, ENAMEL, 6)


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
