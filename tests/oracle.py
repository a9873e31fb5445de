"""The tests' own knowledge of what must be seen and said: written without the product's code, so that it can catch it.

Axes: x right, y up, z toward the viewer of the front; right-handed.
"""

from __future__ import annotations

import math
from itertools import permutations


def cross(a, b):
    """a x b, by the definition."""
    return (a[1] * b[2] - a[2] * b[1], a[2] * b[0] - a[0] * b[2], a[0] * b[1] - a[1] * b[0])


def dot(a, b):
    return sum(x * y for x, y in zip(a, b, strict=True))


def size(a):
    return math.sqrt(dot(a, a))


def unit(a):
    return tuple(part / size(a) for part in a)


def force_on(current, field):
    """F = I l x B: which way a conductor is pushed."""
    return cross(current, field)


def emf_in(motion, field):
    """E = v x B: which way an EMF drives current."""
    return cross(motion, field)


def fits_hand(which: str, thumb, first, second) -> bool:
    """Whether thumb, first and second finger at right angles are those of a left or a right hand.

    Right hand: thumb the motion, first finger the field, second finger the EMF, and E = v x B, so second = thumb x first.
    Left hand: thumb the force, second finger the current, F = I x B, so thumb = second x first.
    """
    wanted = cross(thumb, first) if which == "right" else tuple(-part for part in cross(thumb, first))
    return dot(unit(wanted), unit(second)) > 0.999


def seen(direction, forward, up=(0.0, 1.0, 0.0)) -> str:
    """What a person who looks along `forward` calls a direction, by the axes of the picture it lies along.

    Each axis of the bench is given to the axis of the picture that it is nearest to, one each; a part counts when it is more
    than tan(22.5 degrees) of the largest. A bench axis other than the upright one that goes up in the picture goes toward its top.
    """
    forward = unit(forward)
    right = unit(cross(forward, up))
    upward = cross(right, forward)
    toward = tuple(-part for part in forward)
    frame = (("right", right), ("upward", upward), ("toward", toward))
    best = max(permutations(frame), key=lambda order: sum(abs(vector[axis]) for axis, (_, vector) in enumerate(order)))
    said = {}
    largest = max(abs(part) for part in direction)
    if largest == 0:
        return "nowhere"
    for axis, (role, vector) in enumerate(best):
        part = direction[axis]
        if abs(part) <= math.tan(math.pi / 8) * largest:
            continue
        positive = (part > 0) == (vector[axis] >= 0)
        said[role] = {
            "right": ("to the right", "to the left"),
            "upward": ("up", "down") if axis == 1 else ("toward the top of the picture", "toward the bottom of the picture"),
            "toward": ("toward you", "away from you"),
        }[role][0 if positive else 1]
    words = [said[role] for role in ("upward", "right", "toward") if role in said]
    return words[0] if len(words) == 1 else ", ".join(words[:-1]) + " and " + words[-1]


def flattened(vector, forward, up=(0.0, 1.0, 0.0)) -> tuple[float, float]:
    """A vector as it lies in the picture: across and upward, by what is left of it at right angles to the way one looks."""
    ahead = unit(forward)
    across = unit(cross(ahead, up))
    return dot(vector, across), dot(vector, cross(across, ahead))


def told_apart(fingers, forward, up=(0.0, 1.0, 0.0)) -> bool:
    """Whether in the picture each of these unit vectors keeps 40 % of its length and all lie 25 degrees apart, within rounding."""
    flat = [flattened(finger, forward, up) for finger in fingers]
    if any(math.hypot(*one) < 0.4 - 1e-6 for one in flat):
        return False
    for k, one in enumerate(flat):
        for other in flat[:k]:
            turned = math.atan2(one[0] * other[1] - one[1] * other[0], one[0] * other[0] + one[1] * other[1])
            if abs(math.degrees(turned)) < 25 - 1e-3:
                return False
    return True


def turning(rate: float, side: float) -> str:
    """How a turning about z, counter-clockwise positive seen from +z, looks from +z (`side` 1) or from -z (-1)."""
    if rate == 0:
        return "none"
    return "counter-clockwise" if rate * side > 0 else "clockwise"


def in_a_loop(leads, through: str) -> bool:
    """Whether the thing of that name stands in a closed loop: its two ends are also joined by the rest of the leads.

    leads: of `thumbwise state`, dicts with from, to and through.
    """
    own = [lead for lead in leads if lead["through"] == through]
    rest = [lead for lead in leads if lead["through"] != through]
    return bool(own) and all(_joined(rest, lead["from"], lead["to"]) for lead in own)


def loose_ends(leads) -> set[str]:
    """Terminals at which a drawn lead ends and from which nothing goes on, neither a lead nor the inside of a thing."""
    met: dict[str, int] = {}
    for lead in leads:
        for end in (lead["from"], lead["to"]):
            met[end] = met.get(end, 0) + 1
    return {end for lead in leads if not lead["through"] for end in (lead["from"], lead["to"]) if met[end] < 2}


def _joined(leads, first: str, second: str) -> bool:
    reached, waiting = {first}, [first]
    while waiting:
        here = waiting.pop()
        for lead in leads:
            for a, b in ((lead["from"], lead["to"]), (lead["to"], lead["from"])):
                if a == here and b not in reached:
                    reached.add(b)
                    waiting.append(b)
    return second in reached


def hue(colour: str) -> float:
    """Degrees round the colour circle of "#rrggbb": red 0, yellow 60, green 120, blue 240; nan for a grey."""
    red, green, blue = (int(colour[i : i + 2], 16) / 255 for i in (1, 3, 5))
    high, low = max(red, green, blue), min(red, green, blue)
    if high == low:
        return math.nan
    part = {red: (green - blue) / (high - low) % 6, green: (blue - red) / (high - low) + 2, blue: (red - green) / (high - low) + 4}
    return 60 * part[high]
