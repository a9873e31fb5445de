"""Where energy has gone, as bars on one scale: what is gained to the right, what is given off by that place to the left."""

from __future__ import annotations

import numpy as np

from visual import palette
from visual.solid.mesh import block, joined
from visual.solid.solids import Group, Letters, Solid
from visual.solid.told import Told, point
from visual.terminal_box.markings import Stamped

APART, THICK = 0.046, 0.015  # m from one bar to the next, and how high one is
NAMED, EDGE = 0.0215, 0.012  # m from a bar up to its name, and from there or from the last bar to the sheet's edge
BACK = palette.rgb("#eeeeea")


class EnergyBars(Group):
    """`names`: of the bars with their colours, one under another, the zero of the first at `pos`, (3,); `metres_per_unit` of the
    figures, which go from `least` to `most`; heading: what they are counted in, over them all."""

    def __init__(self, pos, names, metres_per_unit: float, least: float, most: float, heading: str):
        super().__init__()
        self.pos, self.unit, self.least, self.most = np.asarray(pos, float), metres_per_unit, least, most
        over, below = NAMED + EDGE, APART * (len(names) - 1) + EDGE
        middle, high, across = (over - below) / 2, over + below, metres_per_unit * (least + most) / 2
        marks = [
            block([metres_per_unit * at, middle, 0.001], [0.0016 if at else 0.0026, high, 0.002], palette.STEEL if at else palette.INK)
            for at in range(int(np.ceil(least)), int(most) + 1)
        ]
        sheet = block([across, middle, -0.002], [metres_per_unit * (most - least) + 0.02, high, 0.002], BACK)
        self.add(Solid(joined(sheet, *marks))).put(self.pos)
        numbers = [at for at in range(int(np.ceil(least)), int(most) + 1) if at >= 0 and at % 2 == 0]
        Stamped(self, [(str(at), tuple(self.pos + [metres_per_unit * at, over + 0.009, 0.001]), 0.01, palette.INK) for at in numbers])
        self.add(Letters(heading, palette.INK, 15, role="energy")).put(self.pos + [across, over + 0.028, 0.0])
        shape = Solid(block([0.5, 0, 0.004], [1.0, THICK, 0.004], (1, 1, 1)))
        self.bars, self.letters, self.values = [], [], [0.0] * len(names)
        for k, (_, colour) in enumerate(names):
            bar = self.add(shape if k == 0 else shape.copy())
            bar.colour(colour)
            self.bars.append(bar)
            letters = self.add(Letters("", palette.INK, 15, ground=palette.PAPER, role="energy"))
            letters.put(self.pos + [across, NAMED - APART * k, 0.0])
            self.letters.append(letters)
        self.names = [name for name, _ in names]

    def show(self, values, shown: bool) -> None:
        """One figure for each bar; none while they may not be seen."""
        self.values = list(values)
        for k, (bar, value) in enumerate(zip(self.bars, values, strict=True)):
            drawn = min(max(value, self.least), self.most) * self.unit
            bar.visible = self.visible and shown and abs(drawn) > 2e-4
            # a block cannot be turned inside out: to the left it begins where the figure ends
            bar.put(self.pos + [min(drawn, 0.0), -APART * k, 0], None, (max(abs(drawn), 2e-4), 1.0, 1.0))
            self.letters[k].text = f"{self.names[k]} {value:.2f}".replace("-", "\N{MINUS SIGN}") if shown else self.names[k]

    def tell(self, found: Told) -> None:
        for name, value, bar in zip(self.names, self.values, self.bars, strict=True):
            if bar.visible:
                (foot, _, _, (stretch, _, _)) = bar.place
                long = stretch / self.unit * (-1.0 if foot[0] < self.pos[0] - 1e-9 else 1.0)
                found.needles.append((f"energy: {name}", point(foot), (long if abs(value) <= self.most else value, 0.0, 0.0)))
