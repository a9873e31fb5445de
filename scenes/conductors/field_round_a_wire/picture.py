"""The table with wire, compasses and circuit: what is made once, and where everything stands at one instant."""

from __future__ import annotations

import numpy as np

from physics.directions import grip
from physics.fields.flux_lines import ring_radii
from scenes.conductors.field_round_a_wire import snapshot
from scenes.conductors.field_round_a_wire.snapshot import IN_WORDS, KIND, LOWER_END, PLACES, UP, UPPER_END, Snapshot
from scenes.scene.story import Look
from visual import palette
from visual.apparatus.circuit import Battery, KnifeSwitch, WireEnd
from visual.apparatus.compass import CompassDrawn
from visual.apparatus.flux import FluxRings
from visual.apparatus.wiring import Inside, Lead, Terminal
from visual.hand.rule_hand import RuleGrip
from visual.solid.mesh import block, joined, rod
from visual.solid.solids import Arrow, Group, Letters, Solid

WIRE_RADIUS = 0.004  # m
HAND_AT = 0.07  # m above the table
FLUX_BETWEEN_RINGS = 1.6e-6  # Wb for each metre of the wire
METRES_PER_AMPERE = 0.05 / 50
METRES_PER_TESLA = 0.045 / 100e-6
COMPASS = 0.0135  # m, the radius of a compass
BESIDE = 0.05  # m, the size of battery and switch
CUT_AT = 0.006  # m above the table, where one looks along the wire
TABLE = 0.29  # m, its sides
ALONG = "top"  # the view along the wire, in which it would cover all else
FAR = "whole"  # the view in which letters on the table would cover it


class TableDrawn(Group):
    """The whole apparatus, as one group."""

    def __init__(self):
        super().__init__()
        self.add(Solid(_table())).put((0, 0, 0))
        self.wire = self.add(
            Solid(
                joined(
                    rod(LOWER_END, UPPER_END, WIRE_RADIUS, palette.COPPER, 12),
                    rod([0, HAND_AT - 0.045, 0], [0, HAND_AT + 0.045, 0], 0.009, palette.STEEL, 14),  # a sleeve to hold it by
                    *[rod(end - [0, 0.012, 0], end + [0, 0.012, 0], 0.010, palette.BRASS, 12) for end in (LOWER_END, UPPER_END)],
                )
            )
        )
        self.cut_wire = self.add(Solid(rod(LOWER_END, [0, CUT_AT, 0], WIRE_RADIUS, palette.COPPER, 12)))
        for wire in (self.wire, self.cut_wire):
            wire.put((0, 0, 0))
        self.end = self.add(WireEnd((0, CUT_AT, 0), 0.011))
        self.quarters = {
            place: self.add(Letters(words.split()[0].capitalize(), palette.INK, 15, ground=palette.STEEL))
            for place, words in IN_WORDS.items()
        }
        for place, quarter in self.quarters.items():  # to the side, since the wire would hide the farthest
            quarter.put((TABLE / 2 - 0.008) * PLACES[place] + [0.05 * (not PLACES[place][0]), 0.004, 0])
        self._wire_up()
        self.compasses = [CompassDrawn(self, COMPASS) for _ in range(8)]
        self.rings = FluxRings(self, 0.01, 0.135, 0.0014)
        self.hand = self.add(RuleGrip(0.1, ("I", "B"), palette.CURRENT, palette.FIELD))
        self.current = self.add(Arrow("I", palette.CURRENT, 0.006, METRES_PER_AMPERE))
        self.field = self.add(Arrow("B", palette.FIELD, 0.005, METRES_PER_TESLA))
        self.earth = self.add(Arrow("Bₑ", palette.MOTION, 0.004, METRES_PER_TESLA))

    def _wire_up(self) -> None:
        """Battery, switch and leads, as in the snapshot's circuit."""
        battery, switch = snapshot.BATTERY.mean(axis=0), snapshot.SWITCH.mean(axis=0)
        self.battery = Battery(self, battery - [0, 0.74 * BESIDE, 0], BESIDE, along=(0, 0, 1))
        self.switch = KnifeSwitch(self, switch - [0, 0.24 * BESIDE, 0], BESIDE, along=(0, 0, 1))
        lower, upper = (Terminal("wire", name, tuple(at)) for name, at in (("lower end", LOWER_END), ("upper end", UPPER_END)))
        Inside(self, "wire", lower, upper)
        Lead(self, upper, self.battery.left, snapshot.FROM_UPPER_END, 0.004)
        Lead(self, self.battery.right, self.switch.hinge, snapshot.TO_SWITCH, 0.004)
        Lead(self, self.switch.jaw, lower, snapshot.TO_LOWER_END, 0.004)


def build(host) -> TableDrawn:
    drawn = TableDrawn()
    for name, part in (
        ("current", drawn.current.shaft),
        ("field", drawn.field.shaft),
        ("earth", drawn.earth.shaft),
        ("grip-hand", drawn.hand.solid),
    ):
        host.name(f"wire-{name}", part.drawn)
    for number, compass in enumerate(drawn.compasses):
        host.name(f"wire-needle-{number}", compass.needle.drawn)
    return drawn


def place(drawn: TableDrawn, now: Snapshot, look: Look) -> None:
    setup, shown, near = now.setup, look.reveals_answer, look.view.name != FAR
    along = look.view.name == ALONG
    drawn.wire.visible, drawn.cut_wire.visible, drawn.end.visible = not along, along, along
    drawn.end.carry(setup.current)
    for compass, spot, needle in zip(
        drawn.compasses, setup.spots, KIND.directions((now.needles if shown else now.before).angle), strict=True
    ):
        compass.put(spot, needle)
    above = setup.spots[setup.chosen] + [0, 0.008, 0]
    for part in (drawn.field, drawn.earth, *drawn.quarters.values()):
        part.visible = near
    drawn.field.put(above, now.field if shown else np.zeros(3))
    drawn.earth.put(above + [0.012, 0, 0.0], now.earth)
    upward = setup.current > 0
    foot = 0.006 if upward else 0.006 + abs(setup.current) * METRES_PER_AMPERE
    drawn.current.put([-0.014 if upward else 0.024, foot, 0.008], np.zeros(3) if along else setup.current * UP)
    drawn.rings.put(ring_radii(setup.current, 0.014, 0.13, FLUX_BETWEEN_RINGS) if shown else np.empty(0), 0.0035, setup.current)
    # on whichever side the fingertips face the viewer
    drawn.hand.put((0, HAND_AT, 0), hand_of(now, look), (0.9 if upward else -0.9, 0, -0.45))
    drawn.battery.connect(setup.set_current)
    drawn.switch.close(setup.closed)


def hand_of(now: Snapshot, look: Look):
    return None if look.view.name == ALONG else look.gripped(grip(now.setup.current * UP))


def scales(now: Snapshot) -> dict[str, str]:
    field = f"10 mm is {0.01 / METRES_PER_TESLA * 1e6:.0f} µT"
    return {"I": f"10 mm is {0.01 / METRES_PER_AMPERE:.1f} A", "B": field, "Bₑ": field}


def _table():
    """A board with a hole for the wire, on which the compasses lie, and a shelf beside it for battery and switch."""
    shelf = -0.034
    return joined(
        block([0, -0.004, 0], [TABLE, 0.008, TABLE], palette.WOOD),
        rod([0, 0.0, 0], [0, 0.0006, 0], 0.007, palette.SLATE, 16),
        block([-0.19, shelf - 0.004, 0.0], [0.09, 0.008, 0.2], palette.CORD),
        block([-0.19, (shelf - 0.009) / 2, 0.035], [0.03, -shelf - 0.009, 0.065], palette.CORD),
    )
