"""The faults that a board may have, each at one of three places, and the one that is drawn for a number."""

from __future__ import annotations

import random
from dataclasses import dataclass

from physics.measuring import Defects
from physics.terminals import LINES, PHASES
from scenes.drives.terminal_box.board import DELTA, OFF, STAR

SHORTED = 0.15  # of a winding's turns
EARTHED = 8e3  # ohm from a winding to earth
LOOSE = 0.4  # ohm of a link that is not tight, where a sound one has none to speak of
UNEVEN = 0.92  # of its voltage that one line has left
LOAD, OVERLOAD = 0.7, 1.5  # of rated torque
LINKS = {joined: tuple((link[:2], link[3:]) for link in links if link != OFF) for joined, links in (("star", STAR), ("delta", DELTA))}
HIDDEN, SOUND = "hidden", "sound"
# name: (as a setting, as an answer)
KINDS = {
    SOUND: ("none: it is sound", "nothing: it is sound"),
    "open": ("a winding open", "a winding is open"),
    "shorted": ("turns of a winding shorted", "turns of a winding are shorted"),
    "earth": ("an earth fault of a winding", "a winding has an earth fault"),
    "reversed": ("a winding reversed", "a winding is reversed"),
    "loose": ("a loose link", "a link is loose"),
    "lost": ("a line lost before it starts", "a line is lost"),
    "lost-running": ("a line lost while it runs", "a line is lost"),
    "uneven": ("an unbalanced supply", "the supply is unbalanced"),
    "overload": ("an overload", "the motor is overloaded"),
}
CHOICES = tuple((kind, words) for kind, (_, words) in KINDS.items() if kind != "lost-running")


@dataclass(frozen=True)
class Fault:
    """A fault of that kind; place: 0, 1, 2 for winding U, V, W, for line L1, L2, L3, or for the first, second, third link."""

    kind: str
    place: int = 0

    @property
    def answer(self) -> str:
        """The kind as it is asked for: when a line was lost makes no other fault of it."""
        return "lost" if self.kind == "lost-running" else self.kind

    def link(self, joined: str) -> tuple[str, str]:
        """The pair of studs of the link at its place; a star has two."""
        links = LINKS[joined]
        return links[self.place % len(links)]

    def defects(self, joined: str) -> Defects:
        phase, line = PHASES[self.place], LINES[self.place]
        supply = [UNEVEN if k == self.place and self.kind == "uneven" else 1.0 for k in range(3)]
        return Defects(
            opened=frozenset([phase] if self.kind == "open" else []),
            shorted={phase: SHORTED} if self.kind == "shorted" else {},
            reversed_windings=frozenset([phase] if self.kind == "reversed" else []),
            earthed={phase: EARTHED} if self.kind == "earth" else {},
            loose={self.link(joined): LOOSE} if self.kind == "loose" else {},
            lost=frozenset([line] if self.answer == "lost" else []),
            supply=(supply[0], supply[1], supply[2]),
        )

    def words(self, joined: str) -> str:
        """What is wrong and where, as a sentence without its full stop."""
        phase, line = PHASES[self.place], LINES[self.place]
        return {
            SOUND: "nothing is wrong",
            "open": f"winding {phase} is open",
            "shorted": f"turns of winding {phase} are shorted",
            "earth": f"winding {phase} has an earth fault",
            "reversed": f"winding {phase} is reversed",
            "loose": f"link {'-'.join(self.link(joined))} is loose",
            "lost": f"line {line} is lost",
            "uneven": f"the supply is unbalanced: {line} is low",
            "overload": "the motor is overloaded",
        }[self.answer]


def every(joined: str) -> list[Fault]:
    """Every fault at each place that it can have."""
    places = {SOUND: 1, "overload": 1, "loose": len(LINKS[joined])}
    return [Fault(kind, place) for kind in KINDS for place in range(places.get(kind, 3))]


def drawn_for(number: int) -> Fault:
    """The hidden fault of that number."""
    dice = random.Random(f"instruments {number}")
    return Fault(dice.choice(list(KINDS)), dice.randrange(3))
