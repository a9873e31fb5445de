"""The unattended loop: the bench runs through its scenes by itself, and a visitor may take over for a while."""

from __future__ import annotations

import contextlib
import random

from scenes import catalogue
from scenes.bench.bench import Bench
from scenes.exhibit.tours import TourStop, tour_of
from visual.host import messages
from visual.host.encoding import request

QUIET = 60.0  # s without a touch after which the visitor is assumed to have gone
# a visitor's requests; all others are ignored
FOR_VISITORS = (messages.Touch, messages.Next, messages.Reverse, messages.Ask, messages.Answer, messages.CloseQuestion)
PUT_QUESTION = "First say what will happen. Then see."


# Long, for the tour and the visitor's turn share one clock: each ends where the other begins.
class ExhibitBench(Bench):
    """An unattended bench. After `quiet` seconds without a touch everything a visitor did is undone.

    A scene stays as long as its tour says, or for `minutes_per_scene` if given.
    """

    def __init__(self, host, minutes_per_scene: float | None = None, quiet: float = QUIET):
        super().__init__(host)
        self.seconds_per_scene = None if minutes_per_scene is None else 60 * minutes_per_scene
        self.quiet = quiet
        self.untouched = quiet  # s since the last touch; at the start nobody is there
        self.chance = random.Random()
        self.failed = False  # whether the present scene failed; the next picture shows another
        self.begin(0)

    @property
    def visited(self) -> bool:
        return self.untouched < self.quiet

    def begin(self, place: int) -> None:
        """Show the scene at `place` of the lesson with its default settings, at the first stop of its tour."""
        self.place = place % len(catalogue.NAMES)
        name = catalogue.NAMES[self.place]
        self.tour = tour_of(self._scene(name))
        self.here = 0
        self.show(name)
        self.scene.set_all(self._defaults())
        self.scene.look(self.scene.views[0].name)
        self.scene.restart()
        self.running = True
        self.here = -1
        self.go_on()

    def go_on(self) -> None:
        """Go to the next stop, or after the last one to the next scene."""
        self.here += 1
        self.stayed = 0.0
        if self.here >= len(self.tour):
            self.begin(self.place + 1)
            return
        self._go_to(self.tour[self.here])
        self.show_state()

    def _go_to(self, stop: TourStop) -> None:
        if stop.chance:
            self._set_up_by_chance()
        self.scene.set_all(stop.settings)
        if stop.reverse:
            self.scene.reverse(stop.reverse)
        if stop.view:
            self.scene.look(stop.view)
        if stop.anew:
            self.restart()

    def _set_up_by_chance(self) -> None:
        with contextlib.suppress(ValueError):  # a random set-up may contradict itself; then nothing changes
            self.scene.set_all(self._defaults() | self.scene.random_setup(self.chance))
        self.restart()

    def _defaults(self) -> dict:
        return {control.name: control.default for control in self.scene.controls}

    def receive(self, message: dict, viewer=None) -> None:
        """Carry out what a visitor may ask for; all else is passed over, and no error is shown to the public."""
        with contextlib.suppress(ValueError):
            if isinstance(request(message), FOR_VISITORS):
                super().receive(message)

    def carry_out(self, wanted: messages.Request) -> None:
        came = not self.visited
        self.untouched = 0.0
        if isinstance(wanted, messages.Next):
            self.begin(self.place + 1)
        if came or isinstance(wanted, messages.Next):
            self._hand_over()
        if isinstance(wanted, messages.Ask):
            self.ask()  # at random, whatever else is in the message
        elif not isinstance(wanted, messages.Next | messages.Touch):
            super().carry_out(wanted)

    def _hand_over(self) -> None:
        """Prepare the scene for a visitor: every control goes to its default, except those a visitor may reverse, which stay
        as they are seen."""
        for control in self.scene.controls:
            if not control.role:
                self.scene.set(control.name, control.default)
        self.show_state()

    def tell(self, sentence: str) -> None:
        """An exhibit shows no notices."""

    def read_out(self) -> None:
        super().read_out()
        if hasattr(self, "tour"):
            self._publish_caption()

    def _publish_caption(self) -> None:
        caption = "" if self.visited else self.tour[self.here].caption
        if self.prediction.waiting:
            caption = PUT_QUESTION
        self.host.publish(
            exhibit={
                "title": self.scene.title,
                "caption": caption or self.scene.says(),
                "visited": self.visited,
                "reverse": [{"what": role, "words": words} for role, words in self._reversible().items()],
            }
        )

    def _reversible(self) -> dict[str, str]:
        """What a visitor may reverse, with the button's words."""
        words = {}
        for control in self.scene.controls:
            if control.role:
                words[control.role] = "Swap two phases" if control.name == "lines" else f"Reverse the {control.role}"
        return words

    def _one_picture(self, seconds: float) -> None:
        if self.failed:
            self.failed = False
            self.begin(self.place + 1)
        was_visited = self.visited
        self.untouched = min(self.quiet, self.untouched + seconds)
        if was_visited and not self.visited:
            self.begin(self.place)
        elif not self.visited:
            self.stayed += seconds
            if self.stayed >= self._stay():
                self.go_on()
        super()._one_picture(seconds)

    def _hold_what_failed(self) -> None:
        """No error is shown to the public: the loop goes on with the next scene."""
        super()._hold_what_failed()
        self.broken = False
        self.failed = True

    def _stay(self) -> float:
        """How long the present stop stays, s."""
        usual = self.tour[self.here].seconds
        if self.seconds_per_scene is None:
            return usual
        return usual * self.seconds_per_scene / sum(stop.seconds for stop in self.tour)
