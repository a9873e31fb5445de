"""What fills the screen at a stop, on a lying screen and on an upright one.

A scene's own subject has room for the hand of the rule, which most stops do not speak of and leave out. Some machines would fill an
upright screen to a third with what stands beside them: it shows the machine alone, or from another side.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from scenes.exhibit.driven import KINDS
from scenes.exhibit.tour import TourStop
from scenes.scene.scene import Box, Scene, round_the_shaft
from visual.host import messages
from visual.host.messages import Vector
from visual.terminal_box.markings import Stamped


@dataclass(frozen=True)
class Subject:
    """What is changed in a view's subject, metres. left: boxes that lie wholly to the left of it are left out, the hand's; also: boxes
    that are added. On an upright screen right: boxes wholly to the right of it are left out too; upright: boxes in place of all;
    forward: from where it is seen, so that the words for directions stay the same."""

    left: float = -float("inf")
    also: tuple[Box, ...] = ()
    right: float = float("inf")
    upright: tuple[Box, ...] = ()
    forward: Vector | None = None


SUBJECTS: dict[tuple[str, str], Subject] = {
    ("alternator", "drive-end"): Subject(
        left=-0.1, also=(*round_the_shaft(0.112, -0.05, 0.05), ((-0.075, -0.13, -0.025), (0.075, -0.082, 0.025)))
    ),  # with end windings and feet
    ("changing-speed", "drive-end"): Subject(upright=round_the_shaft(0.106, -0.04, 0.04)),
    ("coils-and-commutator", "drive-end"): Subject(
        left=-0.1, also=(((-0.18, -0.09, -0.135), (-0.12, -0.03, -0.1)),), right=0.11, forward=(0.17, -0.7, -0.72)
    ),  # with its battery
    ("inside-a-motor", "near"): Subject(forward=(0.56, -0.62, -0.55)),
    ("pushed-conductor", "corner"): Subject(left=-0.085, also=(((-0.02, 0.1, -0.1), (0.02, 0.13, -0.03)),)),  # with the top of its post
}


def fill(view: messages.View, scene: Scene, stop: TourStop, hand: bool) -> None:
    """Put into the message what fills the screen at a stop, with or without the `hand`. A stop that names its letters is about the
    machine alone: on an upright screen what stands beside that is left out; without a letter, on both sides."""
    wanted = SUBJECTS.get((scene.name, view["name"]), Subject())
    boxes = view["subject"]
    if not hand:
        boxes = [*(box for box in boxes if box[1][0] > wanted.left), *wanted.also]
    driven = KINDS[stop.drives].boxes if stop.drives else ()
    boxes = [*boxes, *driven]
    view["subject"] = _nearer(boxes, stop.near)
    if stop.letters is not None:
        left = -float("inf") if stop.letters else wanted.left
        alone = wanted.upright or [box for box in boxes if box[1][0] > left and box[0][0] < wanted.right]
        if driven:  # what stands beside it would be seen in part
            alone = list(boxes)
        view["upright"] = {"forward": wanted.forward or view["forward"], "subject": _nearer(alone, stop.near)}


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
