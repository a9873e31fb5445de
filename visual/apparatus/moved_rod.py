"""A rod that is moved through the gap of a magnet, with the meter that shows what it generates, arrows and a right hand."""

from __future__ import annotations

import numpy as np

from visual import palette
from visual.apparatus.circuit import cord
from visual.apparatus.flux import flux_tubes
from visual.apparatus.magnets import block_magnet
from visual.apparatus.meter import Meter
from visual.hand.hand_on_bench import FlemingHand
from visual.solid.mesh import block, joined, rod
from visual.solid.solids import Arrow, Group, Letters, Solid

FRONT = 0.042  # m before the middle of the rod, where the arrows stand free of the poles
EMF_AT_FULL_SCALE = 0.09  # m
METRES_PER_TESLA = 0.05 / 0.2
METRES_PER_SPEED = 0.1  # m for each m/s
METRES_PER_NEWTON = 0.05
ALONG_ROD = np.array([0.0, 0.0, 1.0])
UNDER_THE_ROD = np.array([0.0, -0.016, 0.0])  # m: along the rod, and yet seen


class MovedRod(Group):
    """The rod reaches `half_rod` metres to either side of its middle, along z. The poles stand a `gap` apart above and
    below it, each `pole` (2,) metres across and high. `lines`: flux lines of an upward field, each (n, k, 3), by the names
    of the depths that the poles can have."""

    def __init__(self, gap: float, pole, half_rod: float, lines: dict):
        super().__init__()
        self.gap, self.pole = gap, pole
        self.add(Solid(_stand(gap / 2 + pole[1]))).put((0, 0, 0))
        self.magnet = self.add(Solid(_magnet(gap / 2 + pole[1] / 2, pole)))
        self.lines = {name: self.add(Solid(flux_tubes(each, 0.0012, heads=(0.7,)))) for name, each in lines.items()}
        self.poles = [self.add(Letters(letter, palette.PAPER, 24, ground=colour))
                      for letter, colour in (("N", palette.NORTH), ("S", palette.SOUTH))]
        self.rod = self.add(Solid(_carried_rod(half_rod)))
        self.meter = Meter(self, (0.135, 0.005, 0.0), 0.085, "V")
        self.add(Solid(cord([[0.1, -0.035, 0.0], [0.085, -0.055, 0.0], [0.07, -0.072, -0.03]], 0.003))).put((0, 0, 0))
        self.resistor = self.add(Solid(_resistor()))
        self.resistor.put((0.088, -0.064, 0.04))
        self.field = self.add(Arrow("B", palette.FIELD, 0.007, METRES_PER_TESLA))
        self.motion = self.add(Arrow("v", palette.MOTION, 0.007, METRES_PER_SPEED))
        self.emf = self.add(Arrow("E", palette.EMF, 0.007))
        self.force = self.add(Arrow("F", palette.FORCE, 0.007, METRES_PER_NEWTON))
        self.hand = self.add(FlemingHand("right", 0.09, ("v", "B", "E"), (palette.MOTION, palette.FIELD, palette.EMF)))

    def name_for_tests(self, host) -> None:
        for name, part in (("field", self.field.shaft), ("motion", self.motion.shaft), ("emf", self.emf.shaft), ("force", self.force.shaft),
                           ("right-hand", self.hand.solid), ("rod", self.rod), ("meter", self.meter.needle)):
            host.name(f"moved-{name}", part.drawn)

    def magnetise(self, name: str, depth: float, sense: float) -> None:
        """Poles of the depth of that name, `depth` metres, with a field upward where `sense` is 1, downward where -1."""
        turn = np.diag([1.0, sense, sense])
        self.magnet.put((0, 0, 0), turn, (1.0, 1.0, depth))
        for each, lines in self.lines.items():
            lines.put((0, 0, 0), turn)
            lines.visible = each == name
        for letters, side in zip(self.poles, (-1.0, 1.0)):
            letters.put((-self.pole[0] / 2 + 0.008, side * sense * (self.gap / 2 + 0.0075), depth / 2 + 0.003))

    def move(self, middle, field, motion, emf: float, force) -> None:
        """The rod with its middle there, (3,), field, motion and force as vectors, and its EMF toward the viewer as a part
        of the meter's full scale."""
        self.rod.put(middle)
        self.rod_middle = np.asarray(middle)
        before_the_gap = middle + FRONT * ALONG_ROD
        self.field.put(before_the_gap, field)
        self.motion.put(before_the_gap, motion)
        self.emf.put(before_the_gap + UNDER_THE_ROD, EMF_AT_FULL_SCALE * emf * ALONG_ROD)
        self.force.put(middle - 0.02 * ALONG_ROD, force)

    def hold_out(self, hand) -> None:
        """A right hand beside the poles; None for no hand."""
        self.hand.put((-0.115, 0.012, 0.03), hand, self.rod_middle + 0.03 * ALONG_ROD)

    def measure(self, share: float, full_scale: str) -> None:
        """What the meter shows, as a part of its full scale, which is written on it."""
        self.meter.show(share)
        self.meter.mark(f"\N{MINUS SIGN}{full_scale}", "0", full_scale)


def _stand(far: float):
    """A board with a stay that holds the lower magnet and one that holds the upper; their backs are `far` from the rod."""
    return joined(
        block([0.03, -0.08, 0], [0.34, 0.014, 0.2], palette.WOOD),
        block([0, (-0.073 - far) / 2, 0], [0.05, 0.073 - far, 0.02], palette.SLATE),
        block([-0.01, 0.0, -0.095], [0.02, 0.16, 0.01], palette.SLATE),
        block([-0.01, far + 0.006, -0.045], [0.02, 0.012, 0.11], palette.SLATE),
    )


def _magnet(far: float, pole):
    """The two blocks, their middles `far` from the rod, one metre long along it: the depth of the poles stretches them."""
    return joined(*[block_magnet((0, end * far, 0), (*pole, 1.0), (0, 1.0, 0)) for end in (-1, 1)])


def _carried_rod(half: float):
    """The rod with the insulating grip by which it is moved."""
    return joined(
        rod([0, 0, -half], [0, 0, half], 0.004, palette.COPPER, 12),
        block([0, 0, -half - 0.006], [0.016, 0.016, 0.016], palette.CORD),
        rod([0, 0, half], [0, 0, half + 0.004], 0.0055, palette.CORD, 12),
    )


def _resistor():
    """A resistor on the board, with a lead to the meter and one to the cord that comes to it from the rod."""
    return joined(
        rod([-0.03, 0, 0], [0.03, 0, 0], 0.002, palette.STEEL, 8), rod([-0.016, 0, 0], [0.016, 0, 0], 0.008, palette.SLATE, 12),
        cord([[0.03, 0, 0], [0.04, 0.004, -0.015], [0.036, 0.028, -0.036]], 0.0025),
        cord([[-0.03, 0, 0], [-0.034, 0, -0.03], [-0.018, -0.006, -0.07]], 0.0025),
    )
