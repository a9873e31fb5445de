"""The bench during a lesson: the next and previous keys step through it, with a caption below the picture, and a second
page for the speaker keeps in step: notes, answer, what comes next, and the clock."""

from __future__ import annotations

import time
from urllib.parse import parse_qsl

from physics.arguments import quoted
from scenes import catalogue
from scenes.bench.bench import Bench
from scenes.lesson import speaker
from scenes.lesson.pictures import Picture
from scenes.lesson.speaker import SPEAKER, SPEAKERS_PAGE
from scenes.lesson.steps import Lesson, Step
from scenes.scene.scene import Scene
from visual.host import messages
from visual.host.endpoints import Endpoint

NOBODY_YET = "A vote is planned here, and nobody has voted yet: N once more shows the answer without it."
NOBODY_AGAIN = "Nobody has voted again yet: N once more shows the answer without a second vote."
ENDPOINT = Endpoint(beside=(SPEAKERS_PAGE,))
OF_THE_SCENE = (
    messages.SetControl, messages.Reverse, messages.Join, messages.Press, messages.Run, messages.OneStep, messages.Restart,
    messages.ShowAnswers, messages.Ask, messages.Look, messages.Work,
)  # fmt: skip  # what a page of one's own, which covers the scene, leaves nothing to do with


# Long, for all that leads from one step to another is in one place: keys, addresses, scenes, and pages over them.
class LessonBench(Bench):
    """A bench stepped through a lesson. Whatever is changed in between, the next step sets the scene up afresh."""

    def __init__(self, host, lesson: Lesson, clock=time.monotonic, may_wait: bool = False):
        self.lesson = lesson
        self.place = 0
        self.page: Step | None = None  # the page of one's own that covers the scene
        self._clock = clock
        self._began: float | None = None  # when the lesson began: with the first press that goes on, or that starts the clock
        self._step_began = clock()
        self._without_votes = 0  # the round of which it was said that nobody has voted
        super().__init__(host, next((step.scene for step in lesson.steps if step.scene), catalogue.NAMES[0]), may_wait=may_wait)
        self.actions |= {
            messages.ShowScene: lambda it: self.go_to_scene(it.name),
            messages.StartClock: lambda it: self.begin_clock(),
        }
        self.take(lesson)
        self.go_to(0)

    @property
    def step(self) -> Step:
        return self.lesson.steps[self.place]

    def take(self, lesson: Lesson) -> None:
        """Give this lesson from now on; what stands on the bench stays."""
        self.lesson = lesson
        self.place = min(self.place, len(lesson.steps) - 1)
        self.host.pictures = {picture.served_as: picture.body for picture in lesson.pictures.values()}

    def carry_out(self, wanted: messages.Request) -> None:
        if self.page is not None and isinstance(wanted, OF_THE_SCENE):
            raise ValueError("A page of the lesson covers the bench; go on to a step with a demonstration.")
        super().carry_out(wanted)

    def go_to(self, place: int) -> None:
        """Set up the step at `place`, counted from 0; beyond the ends, the first or last one."""
        before, self.place = self.place, max(0, min(len(self.lesson.steps) - 1, place))
        self._step_began = self._clock()
        step = self.step
        if not step.scene:
            self.prediction.enough()
            self.page = step
        elif step.go_on and self.place == before + 1 and self.scene.name == step.scene and self.page is None:
            self.prediction.enough()
            step.change(self.scene)
        else:
            self.show(step.scene)
            step.set_up(self.scene)
            self.host.chart.clear()
        self.answers_shown = step.answers
        self.first_readings = step.readings
        self.running = not step.hold and self.page is None
        if step.question:
            step.put_question(self.prediction, self.scene)
            self._asked()
        self.show_state()

    def _put_on_the_bench(self, scene: Scene) -> None:
        self._uncover()
        super()._put_on_the_bench(scene)

    def _uncover(self) -> None:
        """Put the page that covers the scene away, if there is one."""
        if self.page is not None:
            self.page, self.running = None, True

    def _what_is_asked_about(self) -> str:
        return super()._what_is_asked_about() if self.page is None else f"step={self.place + 1}"

    def _answered(self) -> None:
        super()._answered()
        self.running &= self.page is None

    def walk(self, steps: int) -> None:
        """Go forward or back. From a question that still waits, going forward shows its answer first, after the votes that are planned."""
        self._is_given()
        if steps > 0 and self.prediction.waiting:
            if not (self.step.vote and self._vote_goes_on()):
                self.reveal()
        elif 0 <= self.place + steps < len(self.lesson.steps):
            self.go_to(self.place + steps)

    def _vote_goes_on(self) -> bool:
        """Go on in a vote that is planned; False once it is over. `ValueError`, once, while nobody has voted."""
        if self.tally.go_on(self.prediction):
            return True
        if self.tally.answered or self._without_votes == self.tally.round:
            return False
        self._without_votes = self.tally.round
        raise ValueError(NOBODY_YET if self.tally.before is None else NOBODY_AGAIN)

    def receive_from_the_class(self, message: dict, viewer) -> None:
        super().receive_from_the_class(message, viewer)
        if self.tally.answered and self.host.published.get("notice", {}).get("text") in (NOBODY_YET, NOBODY_AGAIN):
            self.tell("")  # it is true no more

    def go_to_scene(self, name: str) -> None:
        """Go to the first step in that scene; if the lesson has none, show the scene alone."""
        catalogue.scene_class(name)
        self._is_given()
        places = [place for place, step in enumerate(self.lesson.steps) if step.scene == name]
        if places:
            self.go_to(places[0])
        else:
            self.show(name)

    def begin_clock(self) -> None:
        """Start the clock, or start it again."""
        self._began = self._step_began = self._clock()

    def _is_given(self) -> None:
        """Somebody goes through the lesson: if it has not begun yet, it begins now."""
        if self._began is None:
            self.begin_clock()

    def open(self, query: str, followed: str | None = None) -> None:
        """Handle a page being opened: at a step of the lesson, or at any address as on any bench."""
        if followed == self.run_word:
            return
        step = dict(parse_qsl(query[:100])).get("step", "")
        if not step:
            if query:
                self._uncover()
            super().open(query, followed)
        elif not step.isdecimal() or not 1 <= int(step) <= len(self.lesson.steps):
            raise ValueError(f"The lesson has steps from 1 to {len(self.lesson.steps)}, not {quoted(step)}.")
        elif int(step) - 1 != self.place:
            self.go_to(int(step) - 1)

    def show_state(self) -> None:
        super().show_state()
        number, count = self.place + 1, len(self.lesson.steps)
        page = None if self.page is None else self.page.as_page(self.picture_of(self.page))
        self.host.publish(
            address=self.address,
            step={"number": number, "count": count, "caption": self.step.caption, "title": self.lesson.title, "page": page},
        )

    @property
    def address(self) -> str:
        """The address at which a page comes back to this step."""
        return f"step={self.place + 1}"

    def picture_of(self, step: Step) -> str:
        """The address of a step's picture, or empty."""
        return self.picture_at(self.lesson.pictures[step.picture]) if step.picture else ""

    def picture_at(self, picture: Picture) -> str:
        """The address at which pages find a picture."""
        return f"pictures/{picture.served_as}"

    def read_out(self) -> None:
        super().read_out()
        following = self.lesson.steps[self.place + 1] if self.place + 1 < len(self.lesson.steps) else None
        self.host.publish_to(
            SPEAKER,
            prompt=speaker.prompt(self.step, following, self.scene.name, self.prediction.question, self.tally, self._onward()),
            clock=speaker.clock(self.lesson, self.step, self._clock(), self._began, self._step_began),
        )

    def _says(self) -> str:
        if self.page is None:
            return super()._says()
        return self.page.in_words

    def _onward(self) -> str:
        """What going on does, in words."""
        if not self.prediction.waiting:
            return "Next"
        voted = self.tally.coming if self.step.vote else ""
        once = "vote" if self.tally.before is None else "second vote"
        without = f" without a {once}" if self.step.vote and not self.tally.answered else ""
        return voted or f"Show the answer{without}"
