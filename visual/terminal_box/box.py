"""A motor's terminal box with its cover off: six studs, links and leads as they are laid, and what the leads come from.

The studs stand as W2 U2 V2 above U1 V1 W1 (common practice; letters by IEC 60034-8). The supply comes from below by an isolator, then
fuses and an overload relay in one box, then the leads to the studs; the protective conductor goes to its own terminal in the box. With
`feed` out of sight the leads come from elsewhere (`switchgear.star_delta_starter`).
"""

from __future__ import annotations

import numpy as np

from visual import palette
from visual.apparatus.wiring import Inside, Lead, Terminal, squared
from visual.solid.mesh import Mesh, at_right_angles, block, circle, joined, rod, swept
from visual.solid.solids import Group, Letters, Solid
from visual.solid.told import Told
from visual.switchgear.contactor import POLES, Contactor, ThroughBox, contactor_shapes
from visual.switchgear.three_phase import GREEN, YELLOW
from visual.terminal_box.markings import Stamped

PITCH, LEFT, UPPER, LOWER = 0.055, -0.155, 0.092, 0.03  # m
STUDS = {
    name: (LEFT + PITCH * column, y, 0.014)
    for y, row in ((UPPER, ("W2", "U2", "V2")), (LOWER, ("U1", "V1", "W1")))
    for column, name in enumerate(row)
}
LINES, EARTH = ("L1", "L2", "L3"), "PE"
MIDDLE = LEFT + PITCH
BOX = (MIDDLE, 0.052, 0.215, 0.165)  # middle, width and height of the opening
GLAND = BOX[1] - BOX[3] / 2  # height at which leads come into the box
RELAY_AT, ISOLATOR_AT, POSTS_AT = -0.068, -0.126, -0.168  # m, heights
LEADS_AT = tuple((MIDDLE + x, GLAND - 0.008, 0.016 + 0.006 * k) for k, x in enumerate(POLES))  # where the glands let leads in
EARTH_BESIDE = 0.09  # m from the middle line to the protective conductor
EARTH_AT = (MIDDLE + EARTH_BESIDE, -0.014, 0.01)
JUMPER = 0.118  # m
WHITE = (1.0, 1.0, 1.0)
CASTING, BOARD = palette.rgb("#6f8791"), palette.rgb("#2c3338")
SUPPLY, MOTOR, RELAY, ISOLATOR = "supply", "motor", "fuses and relay", "isolator"


class Laid:
    """A link that may be laid between any two studs: a brass bar between neighbours, an insulated jumper between others."""

    def __init__(self, group, number: int):
        self.number = number
        self.ends: tuple[Terminal, Terminal] | None = None
        self.bar = group.add(Solid(_bar()))
        self.jumper = group.add(Solid(_jumper()))
        group.add(self)
        self.lay(None)

    visible = True  # its solids are in the group by themselves

    def lay(self, ends: tuple[Terminal, Terminal] | None) -> None:
        self.ends = ends
        near = False
        if ends is not None:
            start, between = np.array(ends[0].at), np.subtract(ends[1].at, ends[0].at)
            long = float(np.linalg.norm(between))
            near = long < 1.5 * max(PITCH, UPPER - LOWER)
            along = (between / long).tolist()
            front = start + [0, 0, 0.0035 + 0.004 * self.number]
            if near:
                self.bar.put_along(front, along, at_right_angles(along), (long, 1.0, 1.0))
            else:
                level = start[1] + ends[1].at[1] - UPPER - LOWER  # along a row it goes round the stud between, else between the studs
                bow = np.array([0.0, 0.55 * np.sign(round(level, 6)), 1.0])
                self.jumper.put_along(front, along, (bow / np.linalg.norm(bow)).tolist(), long / JUMPER)
        self.bar.visible, self.jumper.visible = ends is not None and near, ends is not None and not near

    def tell(self, found: Told) -> None:
        if self.ends is not None and (self.bar.visible or self.jumper.visible):
            found.leads.append((str(self.ends[0]), str(self.ends[1]), ""))


class TerminalBoxDrawn(Group):
    """The box, its board and what feeds it; `wire` lays links and leads, `switch` shows isolator, fuses and relay."""

    def __init__(self):
        super().__init__()
        self.conducting = True  # fuses and relay
        self.studs = {name: Terminal(MOTOR, name, at) for name, at in STUDS.items()}
        self.box = self.add(Solid(_box()))
        self.box.put((0, 0, 0))
        Stamped(self, _markings())
        self.links = [Laid(self, number) for number in range(3)]
        self.feed = self.add(Group())
        self.isolator = Contactor(self.feed, (MIDDLE, ISOLATOR_AT, 0), ISOLATOR, "main switch", contactor_shapes())
        self.isolator.near = True
        self.isolator.name.put((MIDDLE - 0.094, ISOLATOR_AT, 0.01))
        self.relay = ThroughBox(self.feed, (MIDDLE, RELAY_AT, 0), RELAY, "", ("2", "4", "6"), ("1", "3", "5"), lambda: self.conducting)
        self.relay_words = self.feed.add(Letters("", palette.PAPER, 14, ground=palette.SLATE, role="switchgear"))
        self.relay_words.put((MIDDLE - 0.094, RELAY_AT, 0.01))
        self._feed()
        self.leads = {(line, stud): self._lead(k, line, stud) for k, line in enumerate(LINES) for stud in STUDS}
        for phase in "UVW":
            Inside(self, f"winding {phase}", self.studs[f"{phase}1"], self.studs[f"{phase}2"])

    def wire(self, links, leads, colours) -> None:
        """links: for each of three a pair of studs or None; leads: for L1, L2, L3 a stud or None; colours: of L1, L2, L3."""
        for laid, pair in zip(self.links, links, strict=True):
            laid.lay(None if pair is None else (self.studs[pair[0]], self.studs[pair[1]]))
        for (line, stud), lead in self.leads.items():
            lead.visible = self.visible and leads[LINES.index(line)] == stud
            lead.colour(colours[LINES.index(line)])
        for k, own in enumerate(self.feeds):
            for lead in own:
                lead.colour(colours[k])

    def switch(self, closed: bool, conducting: bool, words: str) -> None:
        """The isolator closed or open; whether fuses and relay conduct, and what stands on them."""
        self.isolator.close(closed)
        self.conducting = conducting
        self.relay_words.text = words

    def _feed(self) -> None:
        self.posts = supply_posts(self.feed, (MIDDLE, POSTS_AT), EARTH_BESIDE)
        self.feeds = [
            [
                Lead(self.feed, post, below, thickness=0.004, colour=WHITE),
                Lead(self.feed, above, through, thickness=0.004, colour=WHITE),
            ]
            for post, below, above, through in zip(self.posts, self.isolator.bottom, self.isolator.top, self.relay.bottom, strict=True)
        ]
        earth_lead(self.feed, (EARTH_AT[0], POSTS_AT, 0.008))

    def _lead(self, k: int, line: str, stud: str) -> Lead:
        """From the relay up through the gland to a stud: below the lower row it goes across, one lead in front of the other, and to
        the upper row it goes up between the columns."""
        start, end = self.relay.top[k], self.studs[stud]
        (x, low, _), (across, high, deep) = start.at, end.at
        level = -0.004 - 0.0075 * k
        front = 0.012 + 0.006 * k
        if high == LOWER:
            via = [(x, low + 0.012, front), (x, level, front), (across, level, front), (across, high - 0.014, deep - 0.002)]
        else:
            beside = across - 0.0165 + 0.003 * (k - 1)  # past the nut below, and not over its letters
            via = [
                (x, low + 0.012, front),
                (x, level, front),
                (beside, level, front),
                (beside, high - 0.02, front),
                (across - 0.012, high - 0.004, deep - 0.004),
            ]
        return Lead(self, start, end, via, 0.0045, WHITE)


def supply_posts(group, middle, beside: float) -> list[Terminal]:
    """The posts of L1, L2, L3, the middle one at `middle`, (2,), with that of the protective conductor `beside` it, and their letters."""
    x, y = middle
    posts = [Terminal(SUPPLY, line, (x + pole, y, 0.008)) for line, pole in zip(LINES, POLES, strict=True)]
    shapes = [rod([x + across, y, 0], [x + across, y, 0.012], 0.006, palette.BRASS, 10) for across in (*POLES, beside)]
    group.add(Solid(joined(block([x + (beside - 0.027) / 2, y, -0.004], [beside + 0.091, 0.024, 0.006], palette.INK), *shapes))).put(
        (0, 0, 0)
    )
    letters = [(line, (x + pole + 0.016, y, 0.0), 0.0125, palette.PAPER) for line, pole in zip(LINES, POLES, strict=True)]
    Stamped(group, [*letters, (EARTH, (x + beside + 0.0185, y, 0.0), 0.0125, palette.PAPER)])
    for k in range(3):
        Inside(group, "mains", posts[k], posts[(k + 1) % 3])
    return posts


def earth_lead(group, below, via=()) -> None:
    """The protective conductor from its post through the points `via` to its terminal in the box, yellow bands on the green."""
    ends = Terminal(SUPPLY, EARTH, below), Terminal(MOTOR, EARTH, EARTH_AT)
    Lead(group, *ends, squared([below, *via, EARTH_AT])[1:-1], thickness=0.004, colour=GREEN)
    points = np.array([below, *via, EARTH_AT], float)
    bands = []
    for start, end in zip(points, points[1:], strict=False):
        along = (end - start) / np.linalg.norm(end - start)
        for out in np.arange(0.01, np.linalg.norm(end - start) - 0.008, 0.014):
            bands.append(rod(start + out * along, start + (out + 0.006) * along, 0.0024, YELLOW, 8))
    group.add(Solid(joined(*bands))).put((0, 0, 0.0))
    Inside(group, "earth", ends[0], "earth")
    Inside(group, "frame", ends[1], "frame")


def name_parts(drawn: TerminalBoxDrawn):
    """(name, drawn object) of the parts that tests look for."""
    yield "box", drawn.box.drawn
    for number, laid in enumerate(drawn.links, 1):
        yield f"link-{number}", laid.bar.drawn
        yield f"jumper-{number}", laid.jumper.drawn
    for (line, stud), lead in drawn.leads.items():
        yield f"lead-{line}-{stud}", lead.drawn


def _markings():
    """Terminal letters of the studs on the board and of the protective conductor."""
    for name, (x, y, _) in STUDS.items():
        yield name, (x + 0.0235, y + (0.017 if y == UPPER else -0.017), 0.003), 0.0145, palette.PAPER
    yield EARTH, (EARTH_AT[0] + 0.009, EARTH_AT[1] + 0.0115, -0.006), 0.0095, palette.PAPER  # test leads pass below it


def _bar() -> Mesh:
    """A link one metre long in x, to be stretched between two studs; its ends lie on them."""
    return block([0.5, 0, 0], [1.0, 0.013, 0.003], palette.COPPER)


def _jumper() -> Mesh:
    """A flexible jumper `JUMPER` long in x that bows out in y, to be stretched a little."""
    turn = np.linspace(0, np.pi, 15)
    line = JUMPER * np.column_stack([0.5 - 0.5 * np.cos(turn), 0.35 * np.sin(turn), np.zeros(15)])
    return swept(circle(0.0026, 8), line, [0, 0, 1.0], palette.CORD)


def _box() -> Mesh:
    """Casting with its rim, board, studs with their nuts, and the earth terminal."""
    x, y, wide, high = BOX
    rim = 0.008
    parts = [block([x, y, -0.012], [wide + 2 * rim, high + 2 * rim, 0.008], CASTING)]
    parts += [block([x, y + side * (high + rim) / 2, 0.006], [wide + 2 * rim, rim, 0.034], CASTING) for side in (-1, 1)]
    parts += [block([x + side * (wide + rim) / 2, y, 0.006], [rim, high, 0.034], CASTING) for side in (-1, 1)]
    parts.append(block([MIDDLE, (UPPER + LOWER) / 2, -0.003], [2 * PITCH + 0.082, UPPER - LOWER + 0.05, 0.01], BOARD))
    for sx, sy, sz in STUDS.values():
        parts.append(rod([sx, sy, 0], [sx, sy, sz + 0.022], 0.0048, palette.BRASS, 12))
        parts.append(rod([sx, sy, 0.002], [sx, sy, 0.008], 0.0105, palette.BRASS, 6))
        parts.append(rod([sx, sy, sz + 0.0145], [sx, sy, sz + 0.0195], 0.0092, palette.BRASS, 6))  # links and lugs lie under this nut
    for k, x in enumerate((*(MIDDLE + pole for pole in POLES), EARTH_AT[0])):
        front = 0.012 + 0.006 * k if k < 3 else EARTH_AT[2]
        parts.append(rod([x, GLAND - 0.016, front], [x, GLAND + 0.002, front], 0.0075, palette.IRON, 6))
    ex, ey, ez = EARTH_AT
    parts.append(rod([ex, ey, -0.008], [ex, ey, ez + 0.006], 0.005, palette.BRASS, 10))
    return joined(*parts)
