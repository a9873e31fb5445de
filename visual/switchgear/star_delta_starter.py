"""A star-delta starter above a motor's terminal box: supply, isolator, fuses and relay, three contactors, timer, six leads to the studs.

The motor's links are out. The leads of the main contactor feed one end of each winding; those of the delta contactor, on the same three
lines, go to the other ends; the star contactor joins these. Between delta and star stands the interlock. The control circuit is not drawn.
Designations: Q for contactors, K for a relay (IEC 81346-2, memory); which number is which is common practice, no source. Poles are
numbered as in `contactor`.
"""

from __future__ import annotations

import math

import numpy as np

from visual import palette
from visual.apparatus.wiring import Lead, Terminal, squared
from visual.solid.mesh import block, joined, rod
from visual.solid.solids import Group, Letters, Solid
from visual.solid.told import Told, point
from visual.switchgear.contactor import FRONT, HALF, POLES, Contactor, Link, ThroughBox, contactor_shapes
from visual.terminal_box.box import BOX, EARTH_BESIDE, ISOLATOR, LOWER, RELAY, WHITE, earth_lead, supply_posts

MAIN, DELTA, STAR = "main contactor", "delta contactor", "star contactor"
COLUMN, ROW = -0.327, 0.228  # m: across, of what feeds it; height of the contactors
CONTACTORS = {MAIN: ("Q1 main", -0.165), DELTA: ("Q2 delta", -0.055), STAR: ("Q3 star", 0.055)}
POLES_AT = tuple((CONTACTORS[thing][1] + x, ROW - HALF, FRONT) for thing in (MAIN, DELTA) for x in POLES)  # where the six leads begin
ISOLATOR_AT, POSTS_AT, NAMES_AT = 0.152, 0.1, 0.299  # m, heights
EARTH_AT = (COLUMN + 0.078, POSTS_AT, 0.008)
LID = BOX[1] + BOX[3] / 2  # height at which the leads come into the box
TIMER_AT, TIMER_RADIUS = (COLUMN, 0.022, 0.004), 0.032
THICK = 0.004
PART = 0.9  # of a turn that the timer's hand goes


class StarDeltaStarter(Group):
    """The starter of a motor with these studs; `wire` lays its six leads, `switch` shows what is closed, `run` the timer."""

    def __init__(self, studs: dict[str, Terminal]):
        super().__init__()
        self.studs, self.conducting = studs, True
        self.wired: tuple | None = None  # what was laid last
        self.by_line: list[list[Solid]] = [[], [], []]
        shapes = contactor_shapes()
        for shape in shapes:
            self.add(shape)
        self.isolator = Contactor(self, (COLUMN, ISOLATOR_AT, 0), ISOLATOR, "", shapes)
        self.isolator.name.visible = False  # the supply's words say it
        self.relay = ThroughBox(self, (COLUMN, ROW, 0), RELAY, "", ("1", "3", "5"), ("2", "4", "6"), lambda: self.conducting)
        self.contactors = {thing: Contactor(self, (x, ROW, 0), thing, words, shapes) for thing, (words, x) in CONTACTORS.items()}
        for contactor, (_, x) in zip(self.contactors.values(), CONTACTORS.values(), strict=True):
            contactor.near = True
            contactor.name.put((x, NAMES_AT, 0.02))
        self.relay_words = self.add(Letters("", palette.PAPER, 14, ground=palette.SLATE, role="switchgear"))
        self.relay_words.put((COLUMN, ROW, 0.022))
        self._feed()
        self._between()
        plate = block([-0.11, LID + 0.008, 0.012], [0.2, 0.012, 0.03], palette.IRON)  # through which the leads come in
        self.add(Solid(plate)).put((0, 0, 0))
        self.leads = {(number, stud): self._to_stud(number, stud) for number in range(6) for stud in studs}
        self.timer = self.add(Timer())
        first, last = CONTACTORS[DELTA][1] + 0.043, CONTACTORS[STAR][1] - 0.043
        self.interlock = self.add(Solid(rod([first, ROW - 0.02, 0.006], [last, ROW - 0.02, 0.006], 0.005, palette.STEEL, 8)))
        self.interlock.put((0, 0, 0))
        self.interlock_words = self.add(Letters("interlock", palette.PAPER, 13, ground=palette.SLATE))
        self.interlock_words.put((0.02, ROW + 0.042, 0.016))

    def wire(self, leads, colours) -> None:
        """leads: for each pole of the main, then of the delta contactor, a stud or None; colours: of L1, L2, L3."""
        if self.wired == (tuple(leads), colours, self.visible):
            return
        self.wired = tuple(leads), colours, self.visible
        for (number, stud), lead in self.leads.items():
            lead.visible = self.visible and leads[number] == stud
            lead.colour(colours[number % 3])
        for own, colour in zip(self.by_line, colours, strict=True):
            for solid in own:
                solid.colour(colour)

    def switch(self, isolator: bool, conducting: bool, words: str, closed, interlock: bool) -> None:
        """Whether the isolator is closed, whether fuses and relay conduct and what stands on them, the contactors that are closed, and
        whether star and delta are interlocked."""
        self.isolator.close(isolator)
        self.conducting = conducting
        self.relay_words.text = words
        self.interlock.visible = self.visible and interlock
        self.interlock_words.text = "interlock" if interlock else "no interlock"
        for thing, contactor in self.contactors.items():
            contactor.close(thing in closed)

    # how it is laid out

    def _lead(self, line: int, first: Terminal, second: Terminal, via) -> None:
        self.by_line[line].append(Lead(self, first, second, squared([first.at, *via, second.at])[1:-1], THICK, WHITE))

    def _feed(self) -> None:
        """Up from the posts through isolator, fuses and relay, over to the main contactor and on to delta."""
        main, delta = self.contactors[MAIN], self.contactors[DELTA]
        posts = supply_posts(self, (COLUMN, POSTS_AT), EARTH_AT[0] - COLUMN)
        low = LID - BOX[3] - 0.018  # below the box
        earth_lead(self, EARTH_AT, [(EARTH_AT[0], low, 0.008), (BOX[0] + EARTH_BESIDE, low, 0.008)])
        for k in range(3):
            self._lead(k, posts[k], self.isolator.bottom[k], [])
            self._lead(k, self.isolator.top[k], self.relay.bottom[k], [])
            level, front = 0.261 + 0.009 * (2 - k), 0.011 + 0.007 * (2 - k)
            for first, second in ((self.relay.top[k], main.top[k]), (main.top[k], delta.top[k])):
                self._lead(k, first, second, [(first.at[0], level, front), (second.at[0], level, front)])

    def _between(self) -> None:
        """From the delta contactor's lower terminals to the star contactor's, whose upper ones are bridged."""
        delta, star = self.contactors[DELTA], self.contactors[STAR]
        for k, (first, second) in enumerate(zip(delta.bottom, star.bottom, strict=True)):
            level, front = 0.189 + 0.007 * k, 0.026
            self._lead(k, first, second, [(first.at[0], level, front), (second.at[0], level, front)])
        for first, second in zip(star.top, star.top[1:], strict=False):
            Link(self, first, second)

    def _to_stud(self, number: int, stud: str) -> Lead:
        """The lead of that pole, in front of those before it: down into the box and to the stud from above, past the upper row to the
        lower one."""
        start = self.contactors[MAIN if number < 3 else DELTA].bottom[number % 3]
        end = self.studs[stud]
        (x, high, _), (across, at, deep) = start.at, end.at
        level, front = high - 0.022 - 0.006 * number, 0.012 + 0.004 * number
        into = 0.006 + 0.0035 * number
        aside = 0.001 * (number - 2.5)
        down = across + aside - (0.014 if at == LOWER else 0.0)
        jog = 0.006 if abs(down - x) < 0.01 else 0.0  # a short way across is laid aslant, or the bends would fold
        via = [(x, level + jog, front), (down, level - jog, front), (down, LID + 0.012, into)]
        via += [(down, at + 0.018, into)] if at == LOWER else []
        return Lead(self, start, end, squared([start.at, *via, (across + aside, at + 0.012, deep), end.at])[1:-1], THICK, WHITE)


class Timer(Group):
    """A dial with a hand that goes round from the top while the timer runs."""

    def __init__(self):
        super().__init__()
        middle = np.array(TIMER_AT)
        marks = [self._at(share, TIMER_RADIUS * 0.8) for share in np.linspace(0.0, 1.0, 11)]
        face = [rod(middle - [0, 0, 0.008], middle, TIMER_RADIUS, palette.PAPER, 36)]
        face += [rod(mark, mark + [0, 0, 0.002], 0.0018, palette.INK, 8) for mark in marks]
        frame = block(middle - [0, 0, 0.01], [2.3 * TIMER_RADIUS, 2.3 * TIMER_RADIUS, 0.006], palette.INK)
        self.add(Solid(joined(frame, *face))).put((0, 0, 0))
        self.hand = self.add(Solid(rod([0, 0, 0.004], [0, 0.72 * TIMER_RADIUS, 0.004], 0.0022, palette.NORTH, 8)))
        self.words = self.add(Letters("", palette.PAPER, 14, ground=palette.SLATE, role="timer"))
        self.words.put(middle - [0, 1.45 * TIMER_RADIUS, -0.01])
        self.run(0.0, "")

    def run(self, share: float, words: str) -> None:
        """The hand at that share of the set time, 0 to 1."""
        along = np.array(self._at(share, 1.0)) - TIMER_AT
        self.hand.put_along(TIMER_AT, [float(along[1]), -float(along[0]), 0.0], along.tolist())
        self.words.text = words

    def tell(self, found: Told) -> None:
        found.needles.append(("hand of the timer", TIMER_AT, point(self.hand.place[2])))

    def _at(self, share: float, radius: float) -> np.ndarray:
        """On the dial, clockwise from the top."""
        turned = 2 * math.pi * PART * share
        return np.array(TIMER_AT) + radius * np.array([math.sin(turned), math.cos(turned), 0.0])
