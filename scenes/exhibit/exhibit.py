"""The unattended bench: one machine turns until somebody touches it, or a while has passed; then it goes through its tour."""

from __future__ import annotations

import contextlib
import math
import random
from collections.abc import Callable
from datetime import datetime

from scenes.exhibit.attempts import Attempts
from scenes.exhibit.counts import Counts
from scenes.exhibit.screen import ExhibitScreen
from scenes.exhibit.status import STATUS, status_of
from scenes.exhibit.subjects import leave_out_stamps
from scenes.exhibit.tour import ATTRACT, Tour, TourStop
from visual.host import messages
from visual.host.encoding import request

MOST_BUILT = 12  # scenes kept ready before anybody comes to them
PICTURES_PER_BUILD = 36  # while nobody is there: a scene not yet built holds the pictures up for half a second
PICTURES_PER_STATUS = 36


# Long, for the tour and the visitor's turn share one clock: each ends where the other begins.
class ExhibitBench(ExhibitScreen):
    """An unattended bench. A stop stays as long as its tour says, or while a visitor is busy with it; when nobody has touched the
    screen for as long as the tour's `quiet`, it goes back to what attracts, and everything that was done is undone.

    `now`: the machine's clock, for the hours of sleep and the day of a count.
    """

    def __init__(self, host, tour: Tour, counts: Counts | None = None, now: Callable[[], datetime] = datetime.now):
        super().__init__(host, tour, counts, now)
        self.actions = {
            messages.Touch: lambda it: None,
            messages.Next: lambda it: self.go_to_next_scene(),
            messages.Previous: lambda it: self.go_back(),
            messages.Try: lambda it: self.try_out(it.number),
            messages.Turn: lambda it: self.turn(it.speed),
            messages.Speak: lambda it: self.speak(it.language),
            messages.Answer: lambda it: self.answer(it.choice),
            messages.Press: lambda it: self.press(it.name),
        }
        self.chance = random.Random()
        self.failed = False  # whether the present scene failed; the next picture shows another
        self.go_to(ATTRACT)

    # the tour

    def go_to(self, place: int) -> None:
        """Show the stop at `place`; beyond the last one the machine that turns while nobody is there."""
        on = place == self.here + 1
        self.here = place if 0 <= place < len(self.tour.stops) else ATTRACT
        self.serial += 1
        self.stayed = 0.0
        if self.here == ATTRACT and not self.use.on:  # whoever has gone past the last stop is still there
            self.language = self.tour.first_language
        self.held = self.use.on and self.language != self.tour.first_language  # a language goes only after the countdown
        stop = self.stop
        if not (stop.goes_on and on and stop.scene == self.scene.name):
            scene = self._scene(stop.scene)
            scene.set_all(scene.defaults)
            scene.look(scene.views[0].name)
            self.show(stop.scene)
        self.running = True
        self._set_up(stop)
        self.on_the_shaft.show(stop)
        leave_out_stamps(self.scene.drawn, stop.letters is not None)
        self.show_state()

    def _set_up(self, stop: TourStop) -> None:
        if stop.chance:
            with contextlib.suppress(ValueError):  # a random set-up may contradict itself; then nothing changes
                self.scene.set_all(self.scene.defaults | self.scene.random_setup(self.chance))
            self.restart()
        self.scene.set_all(stop.settings)
        if stop.reverse:
            self.scene.reverse(stop.reverse)
        if stop.view:
            self.scene.look(stop.view)
        if stop.anew or not stop.goes_on:
            self.restart()
        self.attempts = Attempts(self.scene)

    def go_to_next_scene(self) -> None:
        """Go to the next stop that does not go on from the one before."""
        place = self.here + 1
        while place < len(self.tour.stops) and self.tour.stops[place].goes_on:
            place += 1
        self.go_to(place)

    def go_back(self) -> None:
        """Go back to where the stop before begins that does not go on from another; from the first one, to the machine that attracts."""
        place = self.here - 1
        while place > 0 and self.tour.stops[place].goes_on:
            place -= 1
        self.go_to(place)

    # the visitor

    def receive(self, message: dict, viewer=None) -> None:
        """Carry out what a visitor may ask for; all else is passed over, and no error is shown to the public."""
        with contextlib.suppress(ValueError):
            wanted = request(message)
            if (viewer is None or viewer.role != STATUS) and type(wanted) in self.actions:
                super().receive(message)
                if _is_a_touch(wanted):
                    self.counts.keep_soon()  # at once: a program that hangs is killed, with what it has in memory

    def carry_out(self, wanted: messages.Request) -> None:
        self.asleep = False
        if self.use.touch():
            self.counts.add(self._today(), uses=1)
        if _is_a_touch(wanted):
            self.counts.add(self._today(), touches=1)
        self.counts.add(self._today(), longest=round(self.use.lasted))
        if self.here == ATTRACT:
            self.go_to(0)
            if not isinstance(wanted, messages.Speak):
                return
        self.held = self.held or not isinstance(wanted, messages.Next | messages.Previous)
        super().carry_out(wanted)

    def speak(self, language: str) -> None:
        if language not in self.tour.languages:
            raise ValueError(f"There is no language {language} here.")
        self.language = language
        self.counts.add(self._today(), languages={language: 1})

    def answer(self, choice: str) -> None:
        super().answer(choice)
        self.counts.add(self._today(), answers=1, right=int(self.prediction.posed.is_right(choice)))

    def press(self, name: str) -> None:
        """Press a part that stands alone; one that leads to another scene does nothing."""
        if self.prediction.waiting and self.prediction.posed.pressed:
            self.answer(name)
        elif self.prediction.question is not None or name not in [pick["name"] for pick in self._picks()]:
            raise ValueError("There is nothing to press.")
        else:
            self.attempts.press(name)

    def try_out(self, number: float) -> None:
        """Do what the button of that number says."""
        if number not in range(len(self.stop.tries)) or self.prediction.waiting:
            raise ValueError("There is nothing of that number to try.")
        wanted = self.stop.tries[int(number)]
        if not self._does_more(wanted):
            return
        self.enough()
        self.running = True
        self.attempts.begin(wanted)
        if wanted.answers:
            self.ask_present()
            if self.prediction.posed.answer not in wanted.answers:  # what was tried before has led where the tour has no words
                self.enough()
                self.attempts.undo()
                self.attempts.begin(wanted)
                self.ask_present()
        elif wanted.does == "ask":
            self.ask()

    def turn(self, speed: float) -> None:
        """A finger turns the machine, by so many revolutions a second in the picture, clockwise."""
        wanted = next((each for each in self.stop.tries if each.does == "turn"), None)
        if wanted is None or not math.isfinite(speed):
            raise ValueError("There is nothing to turn here.")
        self.attempts.turn(wanted, speed)

    # the clock

    def _one_picture(self, seconds: float) -> None:
        if self.failed:
            self.failed = False
            self.go_to_next_scene()
        self.pass_time(seconds)
        if self.host.frames % PICTURES_PER_STATUS == 0:
            self.host.publish_to(STATUS, status=status_of(self))
        if self.asleep:
            return
        self.attempts.pass_time(seconds)
        super()._one_picture(seconds)
        self.on_the_shaft.follow(self.scene)
        if self.here == ATTRACT and not self.use.on and self._frame % PICTURES_PER_BUILD == 0:
            self._build_one()

    def pass_time(self, seconds: float) -> None:
        """Go on to where the time that has passed leads."""
        if self.use.pass_time(seconds):
            self.counts.keep_soon()
            self.go_to(ATTRACT)
        asleep = self.tour.sleeps_at(self.now().time()) and not self.use.on
        if asleep != self.asleep:
            self.asleep = asleep
            self.go_to(ATTRACT)
        if self.asleep:
            return
        self.stayed += seconds
        if not self.held and self.stayed >= self.stop.seconds:
            self.go_to(self.here + 1)

    def _build_one(self) -> None:
        """Build a scene of the tour that is still to be built, so that nobody waits for it; the full loop has too many."""
        for name in self.tour.scenes[:MOST_BUILT]:
            if self._scene(name).drawn is None:
                self.scenes[name].ensure_built(self.host)
                self.scenes[name].drawn.visible = False
                return

    def _hold_what_failed(self) -> None:
        """No error is shown to the public: the tour goes on with the next scene."""
        super()._hold_what_failed()
        self.broken = False
        self.failed = True
        self.failures += 1


def _is_a_touch(wanted: messages.Request) -> bool:
    """Whether it is counted as one: a finger that turns or presses a part sends a touch besides."""
    return not isinstance(wanted, messages.Turn | messages.Press) and not getattr(wanted, "again", False)
