"""The time that somebody is at the stand."""

from __future__ import annotations

COUNTDOWN = 10.0  # s before a visitor is taken to have gone, in which that is shown


class Use:
    """From the first touch until nobody has touched the screen for `quiet` seconds."""

    def __init__(self, quiet: float):
        self.quiet = quiet
        self.untouched = quiet  # s since the last touch; at the start nobody is there
        self.lasted = 0.0  # s from the first touch to the last
        self._since = 0.0  # s since the first touch

    @property
    def on(self) -> bool:
        """Whether somebody is taken to be there."""
        return self.untouched < self.quiet

    @property
    def left(self) -> int | None:
        """The whole seconds until the visitor is taken to have gone, once they are few."""
        left = self.quiet - self.untouched
        return -int(-left // 1) if 0 < left <= min(COUNTDOWN, self.quiet / 2) else None

    def touch(self) -> bool:
        """Somebody is there; whether that begins a use."""
        begins = not self.on
        if begins:
            self._since = 0.0
        self.lasted = self._since
        self.untouched = 0.0
        return begins

    def pass_time(self, seconds: float) -> bool:
        """Time passes; whether the use ends with that."""
        was_on = self.on
        self.untouched = min(self.quiet, self.untouched + seconds)
        self._since += seconds
        return was_on and not self.on
