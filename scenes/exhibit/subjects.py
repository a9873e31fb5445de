"""What fills the screen at a stop, on a lying screen and on an upright one.

A scene's own subject has room for the hand of the rule, which most stops do not speak of and leave out. Some machines are seen from
another side on an upright screen, which they fill better so. Nothing that stands beside a machine is seen in part.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from scenes.exhibit.driven import KINDS
from scenes.exhibit.tour import TourStop
from scenes.scene.scene import Scene
from scenes.scene.views import Box, round_the_shaft
from visual.host import messages
from visual.host.messages import Vector
from visual.terminal_box.markings import Stamped


@dataclass(frozen=True)
class Subject:
    """What is changed in a view's subject, metres. left: boxes that lie wholly to the left of it are left out, the hand's; also: boxes
    that are added. forward: from where it is seen on an upright screen, so that the words for directions stay the same."""

    left: float = -float("inf")
    also: tuple[Box, ...] = ()
    forward: Vector | None = None


SUBJECTS: dict[tuple[str, str], Subject] = {
    ("alternator", "drive-end"): Subject(
        left=-0.1, also=(*round_the_shaft(0.112, -0.05, 0.05), ((-0.075, -0.13, -0.025), (0.075, -0.082, 0.025)))
    ),  # with end windings and feet
    ("coils-and-commutator", "drive-end"): Subject(
        left=-0.1, also=(((-0.18, -0.09, -0.135), (-0.12, -0.03, -0.1)),), forward=(0.17, -0.7, -0.72)
    ),  # with its battery
    ("inside-a-motor", "near"): Subject(forward=(0.56, -0.62, -0.55)),
    ("pushed-conductor", "corner"): Subject(left=-0.085, also=(((-0.02, 0.1, -0.1), (0.02, 0.13, -0.03)),)),  # with the top of its post
}


def fill(view: messages.View, scene: Scene, stop: TourStop, hand: bool) -> None:
    """Put into the message what fills the screen at a stop, with or without the `hand`."""
    wanted = SUBJECTS.get((scene.name, view["name"]), Subject())
    boxes = view["subject"]
    if not hand:
        boxes = [*(box for box in boxes if box[1][0] > wanted.left), *wanted.also]
    view["subject"] = _nearer([*boxes, *(KINDS[stop.drives].boxes if stop.drives else ())], stop.near)
    if stop.letters is not None and wanted.forward:
        view["upright"] = {"forward": wanted.forward, "subject": view["subject"]}


def _nearer(boxes: Sequence[Sequence[Vector]], times: float) -> Sequence[Sequence[Vector]]:
    """Boxes drawn together toward their common middle, so that the eye comes so many times as near."""
    if times == 1.0:
        return boxes
    corners = np.array(boxes)
    middle = (corners.min(axis=(0, 1)) + corners.max(axis=(0, 1))) / 2
    nearer: list[list[list[float]]] = (middle + (corners - middle) / times).tolist()
    return nearer


def leave_out_stamps(drawn: object, left_out: bool) -> None:
    """Leave out all markings on what is drawn, or have them there again."""
    if isinstance(drawn, Stamped):
        drawn.leave_out(left_out)
    for inner in getattr(drawn, "parts", ()):
        leave_out_stamps(inner, left_out)
