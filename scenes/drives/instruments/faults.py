"""The faults that a board may have, each at the places where it can be, and the one that is drawn for a number."""

from __future__ import annotations

import random
from dataclasses import dataclass
from typing import NamedTuple

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
FIRST_LINKS = ("first", "second")  # a star has no more


class Kind(NamedTuple):
    """Where a kind of fault can be, and its words: as a setting, as an answer, and of one that is there."""

    places: tuple[str, ...]
    setting: str
    answer: str
    said: str


KINDS = {
    SOUND: Kind(("",), "none: it is sound", "nothing: it is sound", "nothing is wrong"),
    "open": Kind(PHASES, "winding {} open", "a winding is open", "winding {} is open"),
    "shorted": Kind(PHASES, "turns of winding {} shorted", "turns of a winding are shorted", "turns of winding {} are shorted"),
    "earth": Kind(PHASES, "earth fault of winding {}", "a winding has an earth fault", "winding {} has an earth fault"),
    "reversed": Kind(PHASES, "winding {} reversed", "a winding is reversed", "winding {} is reversed"),
    "loose": Kind(FIRST_LINKS, "{} link loose", "a link is loose", "link {} is loose"),
    "lost": Kind(LINES, "phase {} lost before it starts", "a phase is lost", "phase {} is lost"),
    "lost-running": Kind(LINES, "phase {} lost while it runs", "a phase is lost", "phase {} is lost"),
    "uneven": Kind(LINES, "unbalanced supply, {} low", "the supply is unbalanced", "the supply is unbalanced, {} is low"),
    "overload": Kind(("",), "overload", "the motor is overloaded", "the motor is overloaded"),
}
CHOICES = tuple((name, kind.answer) for name, kind in KINDS.items() if name != "lost-running")


@dataclass(frozen=True)
class Fault:
    """A fault of that kind at one of its places, by their order in `KINDS`."""

    kind: str
    place: int = 0

    @property
    def answer(self) -> str:
        """The kind as it is asked for: a phase lost while it runs and one lost before are the same fault."""
        return "lost" if self.kind == "lost-running" else self.kind

    @property
    def name(self) -> str:
        """As a setting: its kind and place."""
        return f"{self.kind}-{self.where}" if self.where else self.kind

    @property
    def where(self) -> str:
        return KINDS[self.kind].places[self.place]

    def link(self, joined: str) -> tuple[str, str]:
        """The pair of studs of the link at its place."""
        return LINKS[joined][self.place]

    def defects(self, joined: str) -> Defects:
        phase = line = self.where
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
        return KINDS[self.kind].said.format("-".join(self.link(joined)) if self.kind == "loose" else self.where)


EVERY = tuple(Fault(kind, place) for kind, it in KINDS.items() for place in range(len(it.places)))
NAMED = {fault.name: fault for fault in EVERY}
SETTINGS = tuple((name, KINDS[fault.kind].setting.format(fault.where)) for name, fault in NAMED.items())


def drawn_for(number: int) -> Fault:
    """The hidden fault of that number: every kind as likely as every other."""
    dice = random.Random(f"instruments {number}")
    kind = dice.choice(list(KINDS))
    return Fault(kind, dice.randrange(len(KINDS[kind].places)))
