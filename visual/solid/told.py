"""What a group shows at this instant, as data: read from the drawn parts, never computed separately."""

from __future__ import annotations

from dataclasses import dataclass, field

Point = tuple[float, float, float]


@dataclass
class Told:
    """What is in sight. Places in metres, on the bench's axes: x right, y up, z toward the viewer.

    arrows   (letter, place of its foot, the vector it stands for, in the unit of its `metres_per_unit`)
    needles  (words, place, unit vector of the marked end): compass needles and pointers
    hands    of hand rules, see `HandTold`
    marks    (words, place, sign): dots, crosses and the like; the sign is that of the z part of what they stand for,
             on the end of an upright wire of the y part
    letters  (text, place, colour of the patch it stands on, such as "#b4443c", or "" where it stands on none)
    leads    (from, to, through): through is "" for a lead, else the name of the thing the current passes inside
    """

    arrows: list[tuple[str, Point, Point]] = field(default_factory=list)
    needles: list[tuple[str, Point, Point]] = field(default_factory=list)
    hands: list[HandTold] = field(default_factory=list)
    marks: list[tuple[str, Point, int]] = field(default_factory=list)
    letters: list[tuple[str, Point, str]] = field(default_factory=list)
    leads: list[tuple[str, str, str]] = field(default_factory=list)


@dataclass(frozen=True)
class HandTold:
    """A hand as drawn: which one, where, and unit vectors along its fingers; `second` is None for a hand that grips.

    on       the place of its conductor, to which a line is drawn; None if there is no line
    mistake  the usual mistake by which it is held so, as the picture names it; "" for a hand held as the rule asks
    """

    which: str
    at: Point
    thumb: Point
    first: Point
    second: Point | None
    on: Point | None = None
    mistake: str = ""


def told(group) -> Told:
    """What a group and everything in it shows; hidden parts are left out."""
    found = Told()
    tell(group, found)
    return found


def tell(part, found: Told) -> None:
    """Add what `part` shows to `found`: its own account if it gives one, else that of its parts."""
    if not getattr(part, "visible", True):
        return
    if hasattr(part, "tell"):
        part.tell(found)
    for each in getattr(part, "parts", ()):
        tell(each, found)


def point(values) -> Point:
    """Three plain numbers."""
    x, y, z = (float(value) + 0.0 for value in values)
    return x, y, z
