"""The stand with its two wires and their circuits: what is made once, and where everything is at one instant."""

from __future__ import annotations

import numpy as np

from scenes.conductors.two_wires import snapshot
from scenes.conductors.two_wires.snapshot import ALONG, AT_POST, BEADS, FLOOR, LEADS, LONGEST, PLACES, POST, SIDES, Snapshot
from scenes.scene.story import Look
from visual import palette
from visual.apparatus.circuit import Battery, KnifeSwitch
from visual.apparatus.flux import FieldMarks
from visual.apparatus.wiring import Inside, Lead, TautLead, Terminal
from visual.hand.rule_hand import RuleHand
from visual.solid.mesh import block, joined, rod
from visual.solid.shade import bench_plate, shaded
from visual.solid.solids import Arrow, Group, Letters, Solid

WIRE_RADIUS = 0.003  # m, with the sleeve on it
ABOVE = 0.010  # m: the current's arrow above the near half of its wire
BESIDE = 0.05  # m, the size of a battery and a switch
ON_RAIL = 0.005  # m, from the middle of a rail to the lead on either side of it
METRES_PER_NEWTON = 10.0
METRES_PER_TESLA = 0.02 / 200e-6
METRES_PER_AMPERE = 0.03 / 40
HAND_AT = {"high": (0.130, 0.085, 0.0)}  # m, beside the right wire, in the view in which it would cover the battery
HAND_BESIDE = (0.125, 0.055, 0.0)  # in the others


class HungWire(Group):
    """One of the wires, the rail it hangs from, and its circuit: battery, switch and leads on its side of the base."""

    def __init__(self, wire: str):
        super().__init__()
        self.side = side = SIDES[wire]
        mirrored = np.array([side, 1.0, 1.0])
        self.hung = self.add(Solid(_hung_wire()))
        self.rail = self.add(Solid(rod([0, LEADS, POST - 0.012], [0, LEADS, LONGEST / 2 + 0.006], 0.0035, palette.SLATE, 8)))
        battery, switch = (mirrored * ends.mean(axis=0) for ends in (snapshot.BATTERY, snapshot.SWITCH))
        self.battery = Battery(self, battery - [0, 0.74 * BESIDE, 0], BESIDE, f"{wire} battery", along=(0, 0, 1))
        self.switch = KnifeSwitch(self, switch - [0, 0.24 * BESIDE, 0], BESIDE, f"{wire} switch", along=(0, 0, -1))
        self.ends = {end: Terminal(f"{wire} wire", end, (0, 0, 0)) for end in "PQ"}  # on the rail, where its leads hang
        at_rail = {end: Terminal(f"{wire} rail", end, (0, 0, 0)) for end in "PQ"}
        at_post = {end: Terminal(f"{wire} post", end, tuple(mirrored * at)) for end, at in AT_POST.items()}
        Inside(self, f"{wire} wire", self.ends["Q"], self.ends["P"])
        Lead(self, at_post["P"], self.switch.jaw, mirrored * snapshot.FROM_P, 0.003)
        Lead(self, self.switch.hinge, self.battery.right, mirrored * snapshot.TO_BATTERY, 0.003)
        Lead(self, self.battery.left, at_post["Q"], mirrored * snapshot.TO_Q, 0.003)
        self.at_rail = at_rail
        for end in "PQ":  # a lead starts where it is; the terminals on the rail are put before it is drawn anew
            self.ends[end].at, at_rail[end].at = (side * 0.02, LEADS, 0.1), (side * 0.02, LEADS, POST)
        self.taut = [TautLead(self, self.ends[end], at_rail[end], 0.0022) for end in "PQ"]
        self.taut += [TautLead(self, at_rail[end], at_post[end], 0.0022) for end in "PQ"]
        self.letter = self.add(Letters("P", palette.INK, 16, ground=palette.PAPER))

    def put(self, hinge: float, angle: float, length: float, middle) -> None:
        """Hang it from the rail at x = `hinge`, swung by `angle`; `middle` is where the wire's middle then is."""
        c, s = np.cos(angle), np.sin(angle)
        self.rail.put((hinge, 0, 0))
        self.hung.put((hinge, LEADS, 0.0), np.array([[c, -s, 0], [s, c, 0], [0, 0, 1.0]]), (1.0, 1.0, length))
        for end, sign in (("P", 1.0), ("Q", -1.0)):
            beside = hinge + sign * self.side * ON_RAIL
            self.ends[end].at, self.at_rail[end].at = (beside, LEADS, sign * 0.497 * length), (beside, LEADS, POST)
        for lead in self.taut:
            lead.put()
        self.letter.put(middle + [0, -0.012, length / 2 + 0.004])


class TwoWiresDrawn(Group):
    """The whole apparatus, as one group."""

    def __init__(self):
        super().__init__()
        self.add(Solid(_stand())).put((0, 0, 0))
        self.wires = {wire: self.add(HungWire(wire)) for wire in SIDES}
        self.marks = FieldMarks(self, PLACES, 0.016)
        self.currents = {wire: self.add(Arrow("I", palette.CURRENT, 0.004, METRES_PER_AMPERE)) for wire in SIDES}
        self.fields = {wire: self.add(Arrow("B", palette.FIELD, 0.004, METRES_PER_TESLA)) for wire in SIDES}
        # between wires drawn together there is no room for a second letter
        self.force, self.other_force = (
            self.add(Arrow(letter, palette.FORCE, 0.0045, METRES_PER_NEWTON, stands_for="F")) for letter in ("F", "")
        )
        self.hand = self.add(RuleHand("left", 0.07, ("F", "B", "I"), (palette.FORCE, palette.FIELD, palette.CURRENT)))


def build(host) -> TwoWiresDrawn:
    drawn = TwoWiresDrawn()
    for wire in SIDES:
        host.name(f"two-wires-{wire}", drawn.wires[wire].hung.drawn)
        host.name(f"two-wires-current-{wire}", drawn.currents[wire].shaft.drawn)
        host.name(f"two-wires-field-{wire}", drawn.fields[wire].shaft.drawn)
    host.name("two-wires-force", drawn.force.shaft.drawn)
    host.name("two-wires-force-other", drawn.other_force.shaft.drawn)
    host.name("two-wires-left-hand", drawn.hand.solid.drawn)
    for number, mark in enumerate(drawn.marks.marks):
        host.name(f"two-wires-mark-{number}", mark.drawn)
    return drawn


def place(drawn: TwoWiresDrawn, now: Snapshot, look: Look) -> None:
    setup, shown = now.setup, look.reveals_answer
    for k, (wire, side) in enumerate(SIDES.items()):
        current, middle, hung = setup.currents[wire], now.middles[k], drawn.wires[wire]
        hung.put(side * setup.spacing / 2, now.angles[k], setup.length, middle)
        hung.battery.connect(1.0 if setup.set_currents[k] < 0 else -1.0)  # a current toward end P returns from there through the switch
        hung.switch.close(bool(current))
        half_arrow = current * METRES_PER_AMPERE / 2 * ALONG
        drawn.currents[wire].put(middle + [0, ABOVE, setup.length / 4] - half_arrow, current * ALONG)
        drawn.fields[wire].put(middle, now.fields[k] if shown else np.zeros(3))
        (drawn.force if wire == setup.wire else drawn.other_force).put(middle, now.pushes[k] if shown else np.zeros(3))
    drawn.marks.put(now.around if shown else np.zeros_like(PLACES))
    middle = now.middles[now.looked_at]
    x, y, z = HAND_AT.get(look.view.name, HAND_BESIDE)
    drawn.hand.put((SIDES[setup.wire] * x, y, z), hand_of(now, look), middle)


def hand_of(now: Snapshot, look: Look):
    return look.held(now.hand)


def scales(now: Snapshot) -> dict[str, str]:
    force = f"10 mm is {0.01 / METRES_PER_NEWTON * 1000:.1f} mN"
    field = f"10 mm is {0.01 / METRES_PER_TESLA * 1e6:.0f} µT"
    return {"I": f"10 mm is {0.01 / METRES_PER_AMPERE:.1f} A", "B": field, "F": force}


def _stand():
    """Base and post with the bar that carries the rails."""
    post = joined(
        block([0, (LEADS + FLOOR) / 2, POST], [0.014, LEADS - FLOOR, 0.014], palette.SLATE),
        block([0, LEADS, POST], [0.13, 0.012, 0.012], palette.SLATE),
    )
    board = bench_plate(0.145, 0.115, FLOOR, 0.01, palette.WOOD, [(0, POST + 0.055, 0.007, 0.007)])
    return joined(board.moved((0, 0, -0.055)), shaded(post, ground=FLOOR))


def _hung_wire():
    """A wire a metre long on its two leads, its hinge at the origin: to be stretched along z to its length."""
    back, front = [0, -LEADS, -0.5], [0, -LEADS, 0.5]
    return joined(
        rod(back, front, WIRE_RADIUS, palette.COPPER, 10),
        *[rod([0, -LEADS, z - 0.02], [0, -LEADS, z + 0.02], BEADS / 2, palette.STEEL, 12) for z in (-0.43, 0.43)],
        *[rod([0, 0, z], [0, -LEADS, z], 0.0012, palette.CORD, 6) for z in (-0.497, 0.497)],
    )
