"""The run loop: the scene on the bench is advanced, drawn and read out."""

from __future__ import annotations

import logging
import secrets

from scenes import catalogue
from scenes.bench.prediction import Prediction
from scenes.bench.tally import Tally
from scenes.bench.workings import WorkingSheet
from scenes.scene import address
from scenes.scene.curves import Plot
from scenes.scene.described import described, described_mark, described_plot, described_readings, described_view
from scenes.scene.scene import Reading, Scene
from visual.host import messages
from visual.host.server import Host
from visual.solid import lights

log = logging.getLogger("thumbwise")

FAILED = "This demonstration hit an internal error and was paused: start it again with Restart and Run, or choose another."
HELD = "Held at that instant: press Run"  # a figure of it was asked for
FRAMES_PER_READING = 3  # twelve readings a second are as many as the eye can follow
FRAMES_HELD = 9  # of which one is made while nothing moves: it shows what was worked out beside the pictures meanwhile


# Long, for everything that is published at once is in one place: what pages show together must be of one instant.
class RunLoop:
    """Holds the scenes built so far and the present one; `host` carries everything to the pages. `may_wait`: whether pictures
    wait for what takes long to work out (see `Scene`)."""

    def __init__(self, host: Host, first: str, settings: dict | None = None, may_wait: bool = False):
        self.host = host
        self._may_wait = may_wait
        self.scenes: dict[str, Scene] = {}
        self.running = True
        self.answers_shown = True
        self.prediction = Prediction()
        self.tally = Tally()
        self.sheet = WorkingSheet(may_wait)
        self.first_readings: tuple[str, ...] = ()  # the names of those that matter now, as a lesson's step has them
        self.held_for_its_figure = False  # a question asked for one, was answered, and nothing has moved since
        self._notices = 0
        self._plotted: Plot | None = None
        self._frame = 0
        self.broken = False  # after an internal error nothing moves until somebody does something
        self.scene: Scene = self._scene(first)
        self.scene.set_all(settings or {})
        self.run_word = secrets.token_hex(4)
        host.publish(run=self.run_word, lesson=[{"name": scene.name, "title": scene.title} for scene in catalogue.LESSON])
        self._put_on_the_bench(self.scene)

    @property
    def reveals_answer(self) -> bool:
        """Whether picture and figures may give the answer away."""
        return self.answers_shown and not self.prediction.waiting

    def _scene(self, name: str) -> Scene:
        """The scene of that name, made on first use and kept, since what is drawn cannot be freed."""
        if name not in self.scenes:
            self.scenes[name] = catalogue.scene_class(name)(self._may_wait)
        return self.scenes[name]

    def _put_on_the_bench(self, scene: Scene) -> None:
        scene.ensure_built(self.host)
        self.prediction.enough()
        self._go_on()
        self.answers_shown = True
        if self.scene.drawn is not None:
            self.scene.drawn.visible = False
        self.scene = scene
        scene.drawn.visible = True
        scene.restart()
        self.sheet.begin(scene)
        self.first_readings = ()
        self.host.chart.clear()
        self.host.publish(scene=described(scene))
        self.show_state()

    def _go_on(self) -> None:
        """Run again after an instant that was held for its figure."""
        self.running |= self.held_for_its_figure
        self.held_for_its_figure = False

    def restart(self) -> None:
        self.scene.restart()
        self.host.chart.clear()

    def frame(self, seconds: float) -> None:
        """One picture: advance by the time that has passed, draw, and every few pictures read out."""
        if self.broken:
            return
        try:
            self._one_picture(seconds)
        except Exception:
            self._hold_what_failed()

    def _hold_what_failed(self) -> None:
        """Log an internal error and show one sentence; neither the lesson nor any connection ends."""
        log.exception("%s failed, set up as %s", self.scene.name, address.written(self.scene, None))
        self.broken = True
        self.running = False
        self.tell(FAILED)
        self.host.publish(bench=self._state() | {"running": False})

    def _one_picture(self, seconds: float) -> None:
        self._frame += 1
        if self.running and not self.prediction.waiting:
            self.move(seconds)
        elif self._frame % FRAMES_HELD and not self.scene.unfinished:
            return  # whoever changes something has it drawn at once
        if self._frame % FRAMES_PER_READING == 0:
            self.read_out()
        self.scene.draw(self.reveals_answer, self.prediction.mistake)

    def move(self, seconds: float) -> None:
        self.scene.step(seconds / self.scene.slowness)
        self._add_to_chart()

    def _add_to_chart(self) -> None:
        point = self.scene.chart_point(self.reveals_answer)
        if point is not None:
            self.host.chart.add(point)

    def show_state(self) -> None:
        """Publish everything that a setting can change, at once."""
        scene = self.scene
        lights.shine_along(scene.eye.forward)
        self.host.publish(
            settings=dict(scene.settings),
            address=address.written(scene, self.prediction.seed, [*self._kind_asked(), *self.sheet.address()]),
            question=self.prediction.shown(),
            bench=self._state(),
            view=self._view(),
        )
        self.read_out()
        scene.draw(self.reveals_answer, self.prediction.mistake)

    def _kind_asked(self) -> list[tuple[str, str]]:
        """Which kind of question the number in the address is of, where it is not the scene's own way round."""
        return [("kind", self.prediction.kind)] if self.prediction.seed is not None and self.prediction.kind else []

    def _state(self) -> messages.BenchState:
        return {
            "running": self.running,
            "slowness": "real time" if self.scene.slowness == 1 else f"1/{self.scene.slowness:g} speed",
            "answers_shown": self.reveals_answer,
            "held": "Answer first, then watch" if self.prediction.waiting else HELD if self.held_for_its_figure else "",
        }

    def read_out(self) -> None:
        scene, reveals_answer = self.scene, self.reveals_answer
        self._publish_plot()
        picks = self._picks()
        if picks != self.host.published.get("picks"):
            self.host.publish(picks=picks)
        self.host.publish(
            readings=described_readings(self._readings(), reveals_answer, self.first_readings),
            scales=scene.scales(),
            marks=[described_mark(mark) for mark in scene.marks(reveals_answer)],
            says=self._says(),
            to_press="" if self.prediction.waiting else scene.to_press(reveals_answer),
        )
        self._publish_working()
        self._publish_tally()

    def _view(self) -> messages.View:
        return described_view(self.scene)

    def _readings(self) -> list[Reading]:
        return self.prediction.readings(self.scene, self.reveals_answer)

    def _picks(self) -> list[messages.Pick]:
        return self.prediction.picks(self.scene, self.reveals_answer)

    def _publish_working(self) -> None:
        working = self.sheet.shown(self.scene, self.reveals_answer, self.prediction.works)
        if working != self.host.published.get("working"):
            self.host.publish(working=working)

    def _publish_tally(self) -> None:
        self.host.publish(tally=self.tally.shown(self.prediction, self.host.count("class"), self._what_is_asked_about()))

    def _what_is_asked_about(self) -> str:
        return address.written(self.scene, self.prediction.seed)

    def _publish_plot(self) -> None:
        plot = self.scene.plot(self.reveals_answer)
        if plot is self._plotted and plot is not None:
            return
        self._plotted = plot
        self.host.publish(plot=None if plot is None else described_plot(plot))

    def _says(self) -> str:
        """What is shown, in a sentence; the question itself is spoken elsewhere."""
        if self.reveals_answer:
            return self.scene.says()
        return "The answer is hidden until the question is answered." if self.prediction.waiting else "The answer arrows are hidden."

    def tell(self, sentence: str) -> None:
        """Show one sentence on the pages; an empty one removes the last."""
        if not sentence and not self.host.published.get("notice", {}).get("text"):
            return
        self._notices += 1
        self.host.publish(notice={"text": sentence, "serial": self._notices})
