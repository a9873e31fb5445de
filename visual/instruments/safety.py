"""What the order of work needs: a proving unit to prove a tester on, a padlock on the isolator, and an isolator with a stuck pole."""

from __future__ import annotations

import numpy as np

from visual import palette
from visual.apparatus.wiring import Inside, Terminal
from visual.solid.mesh import Mesh, block, circle, joined, rod, swept
from visual.solid.solids import Group, Letters, Solid
from visual.solid.told import Told, point
from visual.switchgear.contactor import FRONT, HALF, OPEN_BY, POLES

APART = 0.034  # m between the sockets of the proving unit


class ProvingUnit(Group):
    """A small source of a known voltage about `middle`, (3,), its two sockets marked `names`."""

    def __init__(self, middle, names: tuple[str, str], words: str):
        super().__init__()
        at = np.asarray(middle, float)
        across = (-APART / 2, APART / 2)
        sockets = [rod([x, -0.004, 0.008], [x, -0.004, 0.016], 0.0062, palette.BRASS, 12) for x in across]
        self.add(Solid(joined(block([0, 0, 0], [0.094, 0.036, 0.02], palette.SLATE), *sockets))).put(at)
        self.sockets = [
            Terminal("proving unit", name, (at[0] + x, at[1] - 0.004, at[2] + 0.016)) for name, x in zip(names, across, strict=True)
        ]
        Inside(self, "proving unit", self.sockets[0], self.sockets[1])
        self.words = self.add(Letters(words, palette.PAPER, 14, ground=palette.SLATE, role="known"))
        self.words.put(at + [0, 0.029, 0.01])


class Padlock(Group):
    """A padlock with its tag, about `middle`, (3,), through the hasp on its right."""

    def __init__(self, middle):
        super().__init__()
        self.at = np.asarray(middle, float)
        turn = np.linspace(0, np.pi, 13)
        shackle = np.column_stack([0.008 * np.cos(turn), 0.012 + 0.009 * np.sin(turn), np.zeros(13)])
        line = np.vstack([[0.008, 0.0, 0], shackle, [-0.008, 0.0, 0]])
        hasp = block([0.008, 0.0165, 0], [0.03, 0.007, 0.003], palette.STEEL)
        self.add(Solid(hasp)).put(self.at)
        body = block([0, -0.004, 0], [0.026, 0.02, 0.01], palette.NORTH)
        self.lock = self.add(Solid(joined(body, swept(circle(0.0022, 8), line, [0, 0, 1.0], palette.STEEL))))
        self.lock.put(self.at)
        self.words = self.add(Letters("locked off", palette.PAPER, 14, ground=palette.NORTH, role="lock"))
        self.words.put(self.at + [0.0, -0.027, 0.006])

    def put_on(self, there: bool) -> None:
        self.lock.visible = self.words.visible = self.visible and there

    def tell(self, found: Told) -> None:
        if self.lock.visible:
            found.marks.append(("isolator locked", point(self.at), 1))


class StuckPole(Group):
    """The isolator at `middle`, (3,), open but for its first pole; `bottom` and `top` are that pole's terminals."""

    def __init__(self, middle, bottom: Terminal, top: Terminal):
        super().__init__()
        self.blades = self.add(Solid(_blades()))
        self.blades.put(np.asarray(middle, float))
        Inside(self, "isolator", bottom, top, lambda: self.blades.visible)

    def show(self, there: bool) -> None:
        self.blades.visible = self.visible and there


def _blades() -> Mesh:
    """The first contact closed, the others leaning open."""
    blades = []
    for k, x in enumerate(POLES):
        lean = 0.0 if k == 0 else OPEN_BY
        foot = np.array([x, -HALF, FRONT + 0.004])
        blades.append(rod(foot, foot + 2 * HALF * np.array([-np.sin(lean), np.cos(lean), 0.0]), 0.0032, palette.COPPER, 8))
    return joined(*blades)
