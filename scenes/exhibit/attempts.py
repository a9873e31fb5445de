"""What a visitor does at a stop: reverse, load, turn with a finger, press a part."""

from __future__ import annotations

import math

from scenes.exhibit.driven import shaft_speed
from scenes.exhibit.tour import Try
from scenes.scene.controls import Number
from scenes.scene.scene import Scene

RUNS_DOWN = 0.7  # s in which a machine that a finger lets go of loses most of its speed
PUSH = 0.5  # revolutions a second in the picture, which the button gives that stands for a finger
SLOWEST_TURN = 0.02  # revolutions a second in the picture: slower is standing still
STANDS, FOR = 0.5, 0.5  # r/min, s: one that is reversed passes through standstill


class Attempts:
    """What has been tried since the stop began, on its scene as it was set then.

    last: the button pressed last. part: the part touched last. said: whether it is to be said what that did.
    """

    def __init__(self, scene: Scene):
        self.scene = scene
        self.as_set = dict(scene.settings)
        self.last: Try | None = None
        self.part = ""
        self.said = False
        self.turning = 0.0  # revolutions a second in the picture, clockwise
        self._stood = 0.0  # s since it came to a stop

    @property
    def stands(self) -> bool:
        """Whether the machine has come to a stop, by the scene's own reading of its speed."""
        return self._stood >= FOR

    def _is_at_rest(self) -> bool:
        speed = shaft_speed(self.scene)
        return speed is not None and abs(speed) < STANDS

    def press(self, part: str) -> None:
        """Touch a part; touched again it is let be."""
        self.scene.press(part)
        self.part = "" if part == self.part else part
        self.last, self.said = None, bool(self.part)

    def begin(self, wanted: Try) -> None:
        """Do what the button says, but for a question; what has been stopped begins again first, unless there are words for that it
        still stands."""
        if self.stands and wanted.does != "change" and not wanted.stopped:
            self.undo()
        if wanted.plain:
            self.scene.set_all({control.name: control.default for control in self.scene.controls if not control.role})
        self.last, self.part, self.said = wanted, "", wanted.does != "ask"
        if wanted.does == "change":
            self._change(wanted)
        elif wanted.does == "turn":
            self.turning = PUSH
        elif wanted.what:
            self.scene.reverse(wanted.what)

    def _change(self, wanted: Try) -> None:
        """One step on; where it begins again, back to how the stop began."""
        if self.begins_again(wanted):
            self.undo()
        else:
            self.scene.set(wanted.what, self.scene[wanted.what] + wanted.by)

    def begins_again(self, wanted: Try) -> bool:
        """Whether its button goes back to how the stop began."""
        return bool(wanted.again) and (self.stands or not self.goes_on(wanted))

    def goes_on(self, wanted: Try) -> bool:
        """Whether a button does something more: a number has an end."""
        if wanted.does != "change":
            return True
        control = self._number(wanted)
        return control.low <= self.scene[wanted.what] + wanted.by <= control.high

    def undo(self) -> None:
        """Go back to how the stop began."""
        self.scene.set_all(self.as_set)
        self.scene.restart()
        self.last, self.part, self.said = None, "", False
        self._stood = 0.0

    def turn(self, wanted: Try, speed: float) -> None:
        """A finger turns the machine, by so many revolutions a second in the picture, clockwise."""
        self.last, self.part, self.said = wanted, "", True
        self.turning = speed

    def pass_time(self, seconds: float) -> None:
        """See whether what is loaded has come to a stop; let what is turned by hand follow the finger; let go, it runs down."""
        loaded = self.last is not None and (self.last.does == "change" or bool(self.last.stopped))
        self._stood = self._stood + seconds if loaded and self._is_at_rest() else 0.0
        if self.last is None or self.last.does != "turn":
            return
        control = self._number(self.last)
        speed = 60 * self.turning * self.scene.slowness * self.scene.eye.side
        self.scene.set(control.name, max(control.low, min(control.high, speed)))
        self.turning *= math.exp(-seconds / RUNS_DOWN)
        if abs(self.turning) < SLOWEST_TURN:
            self.turning = 0.0

    def _number(self, wanted: Try) -> Number:
        control = self.scene.by_name[wanted.what]
        assert isinstance(control, Number)  # the file was checked
        return control
