"""The same winding unrolled: the bore cut open between the last slot and the first and laid flat, as one sees it from inside.

The drive end is above; slots count to the right. A coil is drawn as a loop, its side at the bottom of a slot broken; what goes beyond
one edge of the drawing comes in at the other. Below the coils run the leads that join them, three phases to six terminals; above the
slots stands the MMF on the teeth.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from visual import palette
from visual.machines.bore_field import MMF_INWARD, MMF_OUTWARD
from visual.machines.winding.laid_stator import paled
from visual.solid.mesh import Mesh, block, cone, joined, rod
from visual.solid.solids import Group, Letters, Solid
from visual.solid.told import Told, point
from visual.terminal_box.markings import stamped

WHITE = (1.0, 1.0, 1.0)
STRIP = (0.87, 0.89, 0.89)  # a slot
BOARD = (0.97, 0.97, 0.955)


@dataclass(frozen=True)
class Sheet:
    """Where the drawing lies, metres: left edge and width; half the length of the iron, height of the end windings above and below
    it; the line on which the MMF stands and its highest step; front: z of its lines."""

    left: float = 0.165
    width: float = 0.46
    half_length: float = 0.034
    heads: float = 0.028
    middle: float = 0.02
    mmf_at: float = 0.118
    mmf_high: float = 0.024
    front: float = 0.006

    def slot(self, slots: int, number: float) -> float:
        """x of the slot of that number, from 0; beyond the edges it comes in at the other one."""
        return self.left + self.width * ((number + 0.5) / slots % 1.0)

    @property
    def head_top(self) -> float:
        return self.middle + self.half_length + self.heads

    @property
    def head_bottom(self) -> float:
        return self.middle - self.half_length - self.heads


SHEET = Sheet()
THICK = 0.0028  # m, of a coil's line


class UnrolledWinding(Group):
    """Coils of `span` slots in one or two `layers` in so many `slots`, none laid yet."""

    def __init__(self, slots: int, span: int, layers: int, sheet: Sheet = SHEET):
        super().__init__()
        self.slots, self.span, self.layers, self.sheet = slots, span, layers, sheet
        self.pitch = sheet.width / slots
        self.aside = 0.2 * self.pitch if layers == 2 else 0.0
        self.ground = self.add(Solid(self._ground()))
        self.ground.put((0, 0, 0))
        self.thick = min(THICK, 0.3 * self.pitch)
        self.coils = self._coils()
        self._laid: list[tuple[int, str]] = []

    def lay(self, coils) -> None:
        """The coils that lie there: (slot of the first side, letter of the phase, colour, whether it is looked at) of each."""
        there = {slot: paled(colour, bold) for slot, _, colour, bold in coils}
        self._laid = [(slot, phase) for slot, phase, _, _ in coils]
        for slot, solid in enumerate(self.coils):
            solid.visible = self.visible and slot in there
            if slot in there:
                solid.colour(there[slot])

    def ends(self, slot: int) -> tuple[float, float]:
        """x at which the leads of the coil leave it below: from its first side and from the other."""
        apex, out = slot + self.span / 2, min(0.3, 0.004 / self.pitch)
        return self.sheet.slot(self.slots, apex - out), self.sheet.slot(self.slots, apex + out)

    def tell(self, found: Told) -> None:
        """Each coil by the numbers of its slots, first the one of its side at the bore, and where that stands."""
        for slot, phase in self._laid:
            at = (self.sheet.slot(self.slots, slot), self.sheet.middle, self.sheet.front)
            found.marks.append((f"unrolled coil of {phase} in slots {slot + 1} and {(slot + self.span) % self.slots + 1}", at, 0))

    def _coils(self) -> list[Solid]:
        """By the slot of the first side. Those that do not go over the edge are of one shape."""
        made: list[Solid] = []
        first: Solid | None = None
        for slot in range(self.slots):
            if slot + self.span + 0.5 > self.slots:
                solid = Solid(self._coil(slot))
                solid.put((0, 0, 0))
            else:
                solid = first.copy() if first else Solid(self._coil(0))
                first = first or solid
                solid.put((slot * self.pitch, 0, 0))
            made.append(self.add(solid))
        return made

    def _coil(self, slot: int) -> Mesh:
        sheet = self.sheet
        go, back, apex = slot + self.aside / self.pitch * -1, slot + self.span + self.aside / self.pitch, slot + self.span / 2
        low, high = sheet.middle - sheet.half_length, sheet.middle + sheet.half_length
        out = min(0.3, 0.004 / self.pitch)
        whole = [((go, low), (go, high)), ((go, high), (apex, sheet.head_top)), ((apex, sheet.head_top), (back, high)),
                 ((go, low), (apex - out, sheet.head_bottom)), ((back, low), (apex + out, sheet.head_bottom))]  # fmt: skip
        side = [((back, low), (back, high))] if self.layers == 1 else _dashes((back, low), (back, high))
        return joined(*[self._line(*piece) for line in (*whole, *side) for piece in self._cut(*line)])

    def _cut(self, start, end) -> list:
        """The pieces of a line on the sheet, in slots across and metres up: what goes over an edge comes in at the other."""
        pieces, (x, y), (to_x, to_y) = [], start, end
        edges = [edge for edge in (-0.5, self.slots - 0.5, 2 * self.slots - 0.5) if min(x, to_x) < edge < max(x, to_x)]
        corners = [
            (x, y),
            *[(edge, y + (edge - x) / (to_x - x) * (to_y - y)) for edge in sorted(edges, reverse=bool(to_x < x))],
            (to_x, to_y),
        ]
        for (a, low), (b, high) in zip(corners, corners[1:], strict=False):
            turn = self.slots * np.floor(((a + b) / 2 + 0.5) / self.slots)
            pieces.append(((a - turn, low), (b - turn, high)))
        return pieces

    def _line(self, start, end) -> Mesh:
        left = self.sheet.left + 0.5 * self.pitch
        a, b = ((left + x * self.pitch, y, self.sheet.front) for x, y in (start, end))
        return rod(a, b, self.thick / 2, WHITE, 5)

    def _ground(self) -> Mesh:
        """Board, slots with their numbers, and the line of the MMF."""
        sheet, top = self.sheet, self.sheet.mmf_at + self.sheet.mmf_high + 0.006
        bottom = TERMINALS_AT - 0.026
        every = 1 if self.slots <= 24 else 2
        height = min(0.011, 0.55 * self.pitch * (1 if self.slots <= 12 else 1.25))
        pieces = [
            block([sheet.left + sheet.width / 2, (top + bottom) / 2, -0.003], [sheet.width + 0.016, top - bottom, 0.006], BOARD),
            block([sheet.left + sheet.width / 2, sheet.mmf_at, 0.002], [sheet.width, 0.0012, 0.002], palette.SLATE),
        ]
        for number in range(self.slots):
            x = sheet.slot(self.slots, number)
            pieces.append(block([x, sheet.middle, 0.001], [0.5 * self.pitch, 2 * sheet.half_length, 0.002], STRIP))
            if number % every == 0:
                wide = height * (0.7 if number < 9 else 1.35)
                pieces.append(block([x, sheet.middle, 0.008], [wide, 1.5 * height, 0.004], BOARD))
                pieces.append(stamped(str(number + 1), height, palette.INK).moved([x, sheet.middle, 0.011]))
        return joined(*pieces)


def _dashes(start, end, count: int = 5) -> list:
    low, high = np.asarray(start, float), np.asarray(end, float)
    step = (high - low) / (2 * count - 1)
    return [(tuple(low + 2 * k * step), tuple(low + (2 * k + 1) * step)) for k in range(count)]


def _flat_head() -> Mesh:
    """A flat head that points along x, seen from both sides."""
    corners = np.array([[-0.5, -0.45, 0.0], [0.5, 0.0, 0.0], [-0.5, 0.45, 0.0]])
    normals = np.repeat([[0, 0, 1.0], [0, 0, -1.0]], 3, axis=0)
    colours = np.tile(np.asarray(palette.CURRENT, float), (6, 1))
    return Mesh(np.vstack([corners, corners]), normals, colours, np.array([[0, 1, 2], [3, 5, 4]]))


TERMINALS_AT = -0.116  # m, height of the six terminals


class MmfOnTeeth(Group):
    """MMF on each tooth of the unrolled bore, a step up for outward and down for inward, and a mark over each outward peak; for up to
    `most` slots. The highest step stands for `full`, in whatever unit the MMF is handed; arrows told of it have the letter Θ."""

    def __init__(self, most: int, sheet: Sheet = SHEET):
        super().__init__()
        self.sheet = sheet
        out, into = (Solid(block([0, way * 0.5, 0], [1, 1, 1], colour)) for way, colour in ((1, MMF_OUTWARD), (-1, MMF_INWARD)))
        self.steps = [[self.add(step if k == 0 else step.copy()) for k in range(most)] for step in (out, into)]
        peak = Solid(cone([0, 0.011, 0], [0, 0, 0], 0.0055, palette.FIELD, 12))
        self.peaks = [self.add(peak if k == 0 else peak.copy()) for k in range(4)]
        self.letter = self.add(Letters("Θ", palette.PAPER, 24, ground=MMF_OUTWARD))
        self.letter.put((sheet.left + 0.004, sheet.mmf_at + sheet.mmf_high, 0.008))
        self._told: list[tuple[tuple, tuple]] = []

    def put(self, values, full: float, peaks) -> None:
        """MMF on the tooth right of each slot, and where its outward peaks are, in slots."""
        slots, self._told = len(values), []
        wide = self.sheet.width / slots
        for number, pair in enumerate(zip(*self.steps, strict=True)):
            value = float(values[number]) if number < slots else 0.0
            for step, height in zip(pair, (value / full, -value / full), strict=True):
                step.visible = self.visible and height > 0.01
                if height > 0.01:
                    # of the last tooth only the half before the edge
                    share = 0.5 if number == slots - 1 else 1.0
                    x = self.sheet.left + wide * (number + 0.5 + share / 2)
                    step.put((x, self.sheet.mmf_at, 0.004), None, (share * wide, round(height, 3) * self.sheet.mmf_high, 0.004))
                    self._told.append(((x, self.sheet.mmf_at, 0.004), (0.0, value, 0.0)))
        for number, peak in enumerate(self.peaks):
            peak.visible = self.visible and number < len(peaks)
            if number < len(peaks):
                peak.put((self.sheet.slot(slots, float(peaks[number])), self.sheet.mmf_at + self.sheet.mmf_high, 0.012))

    def tell(self, found: Told) -> None:
        found.arrows.extend(("Θ", point(foot), point(vector)) for foot, vector in self._told)
        for peak in self.peaks:
            if peak.visible:
                found.marks.append(("outward peak over the unrolled bore", point(peak.place[0]), 0))


class SlotArrows(Group):
    """A head on each slot of the unrolled bore that points the way its current flows, up toward the drive end, as large as that."""

    def __init__(self, most: int, sheet: Sheet = SHEET):
        super().__init__()
        self.sheet = sheet
        head = Solid(_flat_head())
        self.heads = [self.add(head if k == 0 else head.copy()) for k in range(most)]
        self._told: list[tuple] = []

    def put(self, shares) -> None:
        """Currents of the slots toward the drive end, as shares of the largest."""
        self._told, slots = [], len(shares)
        size = min(0.018, 1.1 * self.sheet.width / slots)
        for number, head in enumerate(self.heads):
            share = float(shares[number]) if number < slots else 0.0
            head.visible = self.visible and abs(share) > 0.02
            if abs(share) > 0.02:
                way = 1.0 if share > 0 else -1.0
                at = (self.sheet.slot(slots, number), self.sheet.middle + 0.021, 0.010)
                head.put_along(at, [0.0, way, 0.0], [-way, 0.0, 0.0], round(size * (0.4 + 0.6 * min(abs(share), 1.0)), 5))
                self._told.append((number, at, (0.0, way, 0.0)))

    def tell(self, found: Told) -> None:
        found.needles.extend((f"current of slot {number + 1}", point(at), way) for number, at, way in self._told)
