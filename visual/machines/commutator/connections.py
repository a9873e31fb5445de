"""What is connected to the brushes: a battery with an ammeter in series; or a voltmeter across them, with a lamp or not."""

from __future__ import annotations

from visual import palette
from visual.apparatus.circuit import Battery
from visual.apparatus.lamp import Lamp
from visual.apparatus.meter import Meter
from visual.apparatus.wiring import Inside, Lead, Terminal
from visual.machines.commutator.machine import CommutatorMachine
from visual.machines.commutator.shapes import FLOOR, METER_AT, SOURCE_AT
from visual.solid.mesh import block, joined, rod
from visual.solid.shade import shaded
from visual.solid.solids import Group, Letters, Solid
from visual.solid.told import Told, point

LOW = FLOOR + 0.003  # m, where leads lie
METER = 0.098  # m; it has a face to either end of the machine
POSTS = ((0.148, -0.066, -0.054), (0.196, -0.066, -0.054))  # + and - of the meter, behind
SOURCE, LAMP = 0.060, 0.068  # m, of battery and lamp
BEHIND = -0.157  # m, where leads pass behind the bearing


class Connections(Group):
    """Battery, meter and lamp, joined to the brushes of the machine."""

    def __init__(self, machine: CommutatorMachine):
        super().__init__()
        self.toward = 1.0
        self.fed, self.across, self.lit = (self.add(Group()) for _ in range(3))
        self.faces = {side: self.add(Group()) for side in (1.0, -1.0)}
        x, y, z = METER_AT
        self.meters = {side: Meter(face, (x, y, z + 0.011 * side), METER, "V", side) for side, face in self.faces.items()}
        self.add(Solid(_foot())).put((0, 0, 0))
        self.polarity = [self.add(Letters(sign, palette.INK, 16, ground=palette.PAPER, role="post")) for sign in ("+", "\N{MINUS SIGN}")]
        first, second = (Terminal("brush", name, tuple(at)) for name, at in zip(machine.names, machine.holders.tolist(), strict=True))
        Inside(self, "armature", first, second)
        self._wire_battery(first, second)
        self._wire_voltmeter(first, second)
        self._wire_lamp(first, second)

    def _posts(self, group: Group, thing: str) -> tuple[Terminal, Terminal]:
        plus, minus = (Terminal(thing, sign.text, at) for sign, at in zip(self.polarity, POSTS, strict=True))
        Inside(group, thing, plus, minus)
        return plus, minus

    def _wire_battery(self, first: Terminal, second: Terminal) -> None:
        self.battery = Battery(self.fed, SOURCE_AT, SOURCE)
        plus, minus = self._posts(self.fed, "ammeter")
        behind = [[0.222, LOW, -0.06], [0.215, LOW, BEHIND], [0.0, LOW, BEHIND - 0.003], [-0.190, LOW, BEHIND], [-0.205, LOW, -0.125]]
        Lead(self.fed, self.battery.right, first, [[-0.115, LOW, -0.112], [-0.085, LOW, -0.106]], 0.0034)
        Lead(self.fed, second, plus, [[0.085, LOW, -0.104], [0.120, LOW, -0.090], [0.140, LOW, -0.062]], 0.0034)
        Lead(self.fed, minus, self.battery.left, behind, 0.0034)

    def _wire_voltmeter(self, first: Terminal, second: Terminal) -> None:
        plus, minus = self._posts(self.across, "voltmeter")
        behind = [[0.135, LOW, -0.06], [0.115, LOW, -0.120], [0.06, LOW, BEHIND], [-0.05, LOW, BEHIND], [-0.085, LOW, -0.125]]
        Lead(self.across, plus, first, behind, 0.0034)
        Lead(self.across, minus, second, [[0.215, LOW, -0.055], [0.195, LOW, -0.098], [0.090, LOW, -0.104]], 0.0034)

    def _wire_lamp(self, first: Terminal, second: Terminal) -> None:
        self.lamp = Lamp(self.lit, SOURCE_AT, LAMP)
        left, right = (Terminal("lamp", marking, tuple(at)) for marking, at in zip(("left", "right"), self.lamp.ends.tolist(), strict=True))
        Inside(self.lit, "lamp", left, right)
        behind = [
            [-0.205, LOW, -0.125],
            [-0.190, LOW, BEHIND - 0.006],
            [0.0, LOW, BEHIND - 0.006],
            [0.09, LOW, BEHIND - 0.004],
            [0.095, LOW, -0.115],
        ]
        Lead(self.lit, right, first, [[-0.115, LOW, -0.115], [-0.085, LOW, -0.108]], 0.0034)
        Lead(self.lit, left, second, behind, 0.0034)

    def feed(self, battery: float) -> None:
        """The battery; positive: + on the first brush."""
        self._put_in(self.fed)
        self.battery.connect(battery)
        for letters in self.battery.signs:
            letters.visible = battery != 0

    def load(self, lamp: bool, brightness: float) -> None:
        self._put_in(self.across, *([self.lit] if lamp else []))
        self.lamp.glow(brightness)

    def _put_in(self, *groups: Group) -> None:
        for group in (self.fed, self.across, self.lit):
            group.visible = group in groups

    def look_from(self, toward: float) -> None:
        """Only what is written on the face toward the eye is seen."""
        self.toward = toward
        for side, face in self.faces.items():
            face.visible = side == toward
        for letters, (x, y, z) in zip(self.polarity, POSTS, strict=True):
            letters.put((x, y, z if toward < 0 else -0.002))

    def measure(self, value: float, full: float, unit: str) -> None:
        """What the meter shows, on both its faces."""
        for meter in self.meters.values():
            meter.show(value / full)
            meter.mark(f"\N{MINUS SIGN}{full:g}", "0", f"{full:g}")
            meter.letters.text = unit

    def tell(self, found: Told) -> None:
        """Whether the lamp glows."""
        if self.lit.visible:
            found.marks.append((f"lamp {'glows' if self.lamp.level else 'is dark'}", point(self.lamp.ends.mean(axis=0)), 0))


def _foot():
    """The box on which the meter stands, with its two posts."""
    x, y, z = METER_AT
    box = block([x, (FLOOR + y - METER / 2) / 2, z], [0.084, y - METER / 2 - FLOOR, 0.030], palette.SLATE)
    posts = [rod([px, py, pz - 0.003], [px, py, -0.008], 0.0036, palette.BRASS, 10) for px, py, pz in POSTS]
    return joined(shaded(box, ground=FLOOR), *posts)
