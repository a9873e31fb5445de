"""The board of six studs as settings: where each link and each lead may be, the usual ways of joining and the usual mistakes.

The studs stand as W2 U2 V2 above U1 V1 W1 (common practice; letters by IEC 60034-8), so that upright links join the windings in delta
and links across the upper row join them in star.
"""

from __future__ import annotations

from dataclasses import dataclass, replace

from physics.arguments import quoted
from physics.terminals import LINES, Wiring
from scenes.scene.controls import Choice

OFF, OWN = "off", "own"
ROWS = (("W2", "U2", "V2"), ("U1", "V1", "W1"))
BOARD = (*ROWS[0], *ROWS[1])
PAIRS = (
    "W2-U2", "U2-V2", "W2-V2", "U1-W2", "V1-U2", "W1-V2", "U1-V2", "V1-W2", "W1-U2",
    "U1-U2", "V1-V2", "W1-W2", "U1-V1", "V1-W1", "U1-W1",
)  # fmt: skip
LINKS = ("link-1", "link-2", "link-3")
LEADS = tuple(f"lead-{line}" for line in LINES)


@dataclass(frozen=True)
class Joining:
    """What is on the board: the pair of each link, `OFF` where it is off, and the stud of each lead, L1 first; reversed: letters of the
    windings whose ends are exchanged inside the motor."""

    links: tuple[str, ...]
    leads: tuple[str, ...]
    reversed: tuple[str, ...] = ()

    @property
    def wiring(self) -> Wiring:
        leads = {line: stud for line, stud in zip(LINES, self.leads, strict=True) if stud != OFF}
        return Wiring(leads, [(link[:2], link[3:]) for link in self.laid], self.reversed)

    @property
    def laid(self) -> tuple[str, ...]:
        """The links that are on the board."""
        return tuple(link for link in self.links if link != OFF)

    @property
    def words(self) -> str:
        """Where everything is, in words."""
        links = ", ".join(self.laid) or "none"
        on = ", ".join(f"{line} on {stud}" for line, stud in zip(LINES, self.leads, strict=True) if stud != OFF)
        return f"links {links}; {on or 'no lead'}"


STRAIGHT = ("U1", "V1", "W1")
STAR, DELTA = ("W2-U2", "U2-V2", OFF), ("U1-W2", "V1-U2", "W1-V2")
# name: (words, links, leads)
USUAL: dict[str, tuple[str, tuple[str, ...], tuple[str, ...]]] = {
    "star": ("star", STAR, STRAIGHT),
    "delta": ("delta", DELTA, STRAIGHT),
    "other-delta": ("delta the other way round: U1-V2, V1-W2, W1-U2", ("U1-V2", "V1-W2", "W1-U2"), STRAIGHT),
    "star-swapped": ("star, leads L1 and L2 swapped", STAR, ("V1", "U1", "W1")),
    "star-less-one": ("star, one link forgotten", ("W2-U2", OFF, OFF), STRAIGHT),
    "delta-less-one": ("delta, one link forgotten", ("U1-W2", "V1-U2", OFF), STRAIGHT),
    "lead-off": ("star, lead L3 off", STAR, ("U1", "V1", OFF)),
    "both": ("star and delta links together", ("W2-U2", "U1-W2", "V1-U2"), STRAIGHT),
}
BY_HAND = ("by", "hand")
_OWN = ("joined", OWN)


def controls() -> tuple[Choice, ...]:
    """The way of joining and, where it is one's own, the place of each link and lead."""
    usual = tuple((name, words) for name, (words, _, _) in USUAL.items())
    return (
        Choice("joined", "Joining", "star", (*usual, (OWN, "as set below")), only_with=BY_HAND),
        *[
            Choice(name, f"Link {number}", at, tuple((pair, pair) for pair in (*PAIRS, OFF)), only_with=_OWN)
            for number, (name, at) in enumerate(zip(LINKS, STAR, strict=True), 1)
        ],
        *[
            Choice(name, f"Lead {line}", at, tuple((stud, stud) for stud in (*BOARD, OFF)), only_with=_OWN)
            for name, line, at in zip(LEADS, LINES, STRAIGHT, strict=True)
        ],
        Choice("reversed", "Winding reversed inside", "none", tuple((each, each) for each in ("none", "U", "V", "W")), only_with=BY_HAND),
    )


def joining_of(settings: dict) -> Joining:
    turned = () if settings["reversed"] == "none" else (settings["reversed"],)
    if settings["joined"] == OWN:
        return Joining(tuple(settings[name] for name in LINKS), tuple(settings[name] for name in LEADS), turned)
    _, links, leads = USUAL[settings["joined"]]
    return Joining(links, leads, turned)


def touched(joining: Joining, first: str, second: str) -> Joining:
    """The board once two of its studs and leads have been pressed, or one dragged to the other: they are joined, or, if they were,
    no longer. A link takes the first of the three that is free. `ValueError`, in a sentence, where that cannot be."""
    for name in (first, second):
        if name not in (*BOARD, *LINES):
            raise ValueError(f"What can be joined is {', '.join((*BOARD, *LINES))}, not {quoted(name)}.")
    if first in LINES and second in LINES:
        raise ValueError("A lead goes on a stud: press a lead and then a stud.")
    if first == second:
        raise ValueError("A link goes from one stud to another.")
    if first in LINES or second in LINES:
        line, stud = (first, second) if first in LINES else (second, first)
        leads = tuple((OFF if at == stud else stud) if name == line else at for name, at in zip(LINES, joining.leads, strict=True))
        return replace(joining, leads=leads)
    pair = next(each for each in PAIRS if {first, second} == {each[:2], each[3:]})
    links = list(joining.links)
    if pair in links:
        links = [OFF if link == pair else link for link in links]
    elif OFF in links:
        links[links.index(OFF)] = pair
    else:
        raise ValueError("All three links are on the board: press both studs of one to take it off first.")
    return replace(joining, links=tuple(links))


def as_settings(joining: Joining) -> dict[str, str]:
    """The settings of links and leads that give this joining as one's own."""
    return dict(zip((*LINKS, *LEADS), (*joining.links, *joining.leads), strict=True))
