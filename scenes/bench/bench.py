"""The run loop: the scene on the bench is advanced, drawn and read out, and the pages' requests are carried out."""

from __future__ import annotations

import logging
import secrets

from physics.arguments import quoted
from scenes import catalogue
from scenes.bench.prediction import Prediction, checked_seed
from scenes.bench.tally import Tally
from scenes.scene import address
from scenes.scene.described import described, described_plot
from scenes.scene.scene import Plot, Scene
from visual.solid import lights

log = logging.getLogger("thumbwise")

FAILED = "This demonstration hit an internal error and was paused: start it again with Restart and Run, or choose another."
FRAMES_PER_READING = 3  # twelve readings a second are as many as the eye can follow


class Bench:
    """Holds the scenes built so far and the present one; `host` carries everything to the pages."""

    def __init__(self, host, first: str = catalogue.NAMES[0], settings: dict | None = None):
        self.host = host
        self.scenes: dict[str, Scene] = {}
        self.running = True
        self.answers_shown = True
        self.prediction = Prediction()
        self.tally = Tally()
        self._refused: set[str] = set()
        self._notices = 0
        self._plotted: Plot | None = None
        self._frame = 0
        self.broken = False  # after an internal error nothing moves until somebody does something
        self.scene: Scene = self._scene(first)
        self.scene.set_all(settings or {})
        self.actions = {
            "open": lambda m: self.open(m.get("address"), m.get("run")),
            "scene": lambda m: self.show(m.get("name")),
            "next": lambda m: self.walk(1),
            "previous": lambda m: self.walk(-1),
            "set": lambda m: self.set(m.get("name"), m.get("value")),
            "reverse": lambda m: self.reverse(m.get("what")),
            "run": lambda m: self.run(m.get("on")),
            "step": lambda m: self.one_step(),
            "restart": lambda m: self.restart(),
            "answers": lambda m: self.show_answers(m.get("shown")),
            "ask": lambda m: self.ask_present() if m.get("present") else self.ask(m.get("seed")),
            "answer": lambda m: self.answer(m.get("choice")),
            "reveal": lambda m: self.reveal(),
            "enough": lambda m: self.enough(),
            "view": lambda m: self.look(m.get("name")),
            "tally": lambda m: self.open_tally(),
        }
        host.on_message = self.receive
        self.run_word = secrets.token_hex(4)
        host.publish("run", self.run_word)
        host.publish("lesson", [{"name": scene.name, "title": scene.title} for scene in catalogue.LESSON])
        self._put_on_the_bench(self.scene)

    # requests from a page

    def receive(self, message: dict, viewer=None) -> None:
        """Carry out a message. If that is impossible, say so in a sentence and change nothing."""
        if viewer is not None and viewer.role == "class":
            self.receive_from_the_class(message, viewer)
            return
        action = self.actions.get(message["do"])
        if action is None:
            log.warning("a page sent the unknown request %r", message["do"][:40])
            return
        self.broken = False
        try:
            try:
                action(message)
                self.tell("")
            except ValueError as wrong:
                self.tell(str(wrong))
            self.show_state()
        except Exception:
            self._hold_what_failed()

    def receive_from_the_class(self, message: dict, viewer) -> None:
        """A follower may answer the question that waits and is told whether the answer counts; anything else is refused, and
        nobody else is told."""
        refused = ""
        try:
            if message["do"] == "answer":
                self.tally.take(self.prediction, viewer.visitor, viewer.address, message.get("choice"))
            elif message["do"] != "open":  # every page says where it was opened
                raise ValueError("Followers may only answer.")
        except ValueError as wrong:
            refused = str(wrong)
            if refused not in self._refused and len(self._refused) < 20:
                self._refused.add(refused)
                log.warning("refused a follower's request: %r (%s)", message["do"][:40], refused)
        viewer.publish("vote", self.tally.vote(self.prediction, viewer.visitor) | {"refused": refused})
        self._say_tally()

    def tell(self, sentence: str) -> None:
        """Show one sentence on the pages; an empty one removes the last."""
        if not sentence and not self.host.published.get("notice", {}).get("text"):
            return
        self._notices += 1
        self.host.publish("notice", {"text": sentence, "serial": self._notices})

    def open(self, query, followed=None) -> None:
        """Bring the bench to the address at which a page was opened, unless it is there already, or the page is only
        reconnecting and `followed` this run of the program before."""
        if not isinstance(query, str) or not query or followed == self.run_word:
            return
        name, settings, seed = address.read(query)
        scene = self._scene(name) if name else self.scene
        view = None if "view" not in settings else scene.checked_view(settings.pop("view"))
        number = None if seed is None else checked_seed(seed)
        checked = {key: scene.by_name[key].checked(value) for key, value in settings.items() if key in scene.by_name}
        unknown = [key for key in settings if key not in scene.by_name]
        if scene is not self.scene:
            self._put_on_the_bench(scene)
        if number is not None and number != self.prediction.seed:
            self.ask(number)
        elif any(scene[key] != value for key, value in checked.items()):
            scene.set_all(checked)
            scene.restart()
            self.prediction.reset(scene)
            self.host.chart.clear()
        if view is not None:
            self.look(view)
        if unknown:
            raise ValueError(f"The address names {quoted(', '.join(unknown))}, which {scene.name} does not have.")

    def show(self, name) -> None:
        self._put_on_the_bench(self._scene(str(name)))

    def walk(self, steps: int) -> None:
        place = catalogue.NAMES.index(self.scene.name) + steps
        self.show(catalogue.NAMES[max(0, min(len(catalogue.NAMES) - 1, place))])

    def set(self, name, value) -> None:
        try:
            self.scene.set(str(name), value)
        finally:  # a refused value may have been kept: an impossible nameplate is reported and stays to be corrected
            self.prediction.reset(self.scene)

    def reverse(self, what) -> None:
        self.scene.reverse(str(what))
        self.prediction.reset(self.scene)

    def run(self, on) -> None:
        self.running = bool(on)

    def one_step(self) -> None:
        self.running = False
        if not self.prediction.waiting:
            self.scene.one_step()
            self._add_to_chart()

    def restart(self) -> None:
        self.scene.restart()
        self.host.chart.clear()

    def show_answers(self, shown) -> None:
        if self.prediction.waiting:
            raise ValueError("The answer stays hidden until the question is answered.")
        self.answers_shown = bool(shown)

    def ask(self, seed=None) -> None:
        self.prediction.ask(self.scene, seed)
        self._asked()

    def ask_present(self) -> None:
        self.prediction.ask_present(self.scene)
        self._asked()

    def _asked(self) -> None:
        self.answers_shown = False
        self.host.chart.clear()

    def answer(self, choice) -> None:
        self.prediction.answer(str(choice))
        self._answered()

    def reveal(self) -> None:
        """Show the answer to the question that waits without anyone giving one."""
        self.prediction.reveal()
        self._answered()

    def _answered(self) -> None:
        self.answers_shown = True
        self.running = True
        self.scene.revealed()

    def enough(self) -> None:
        self.prediction.enough()
        self.answers_shown = True

    def open_tally(self) -> None:
        """Show how the class answers while the question still waits."""
        self.tally.opened = True

    def look(self, name) -> None:
        """Change to another ready view; a question that waits is reworded for it."""
        self.scene.look(str(name))
        self.prediction.reword(self.scene)

    # what happens every picture

    def frame(self, seconds: float) -> None:
        """One picture: advance by the time that has passed, draw, and every few pictures read out."""
        if self.broken:
            return
        self.scene.may_wait = False
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
        self.host.publish("bench", self.host.published["bench"] | {"running": False})

    def _one_picture(self, seconds: float) -> None:
        if self.running and not self.prediction.waiting:
            self.move(seconds)
        self._frame += 1
        if self._frame % FRAMES_PER_READING == 0:
            self.read_out()
        self.scene.draw()

    def move(self, seconds: float) -> None:
        self.scene.step(seconds / self.scene.slowness)
        self._add_to_chart()

    def _add_to_chart(self) -> None:
        point = self.scene.chart_point()
        if point is not None:
            self.host.chart.add(point)

    def show_state(self) -> None:
        """Publish everything that a setting can change, at once."""
        scene = self.scene
        scene.answers_shown = self.answers_shown and not self.prediction.waiting
        self.host.publish("settings", dict(scene.settings))
        self.host.publish("address", address.written(scene, self.prediction.seed))
        self.host.publish("question", self.prediction.shown())
        self.host.publish(
            "bench",
            {
                "running": self.running,
                "slowness": "real time" if scene.slowness == 1 else f"1/{scene.slowness:g} speed",
                "answers_shown": scene.answers_shown,
                "held": "Answer first, then watch" if self.prediction.waiting else "",
            },
        )
        view = scene.eye
        lights.shine_along(view.forward)
        self.host.publish(
            "view",
            {
                "name": view.name,
                "forward": view.forward,
                "up": view.up,
                "subject": view.subject or scene.subject,
                "directions": view.directions.axes(),
                "letters": view.letters or scene.letters,
            },
        )
        self.read_out()
        scene.draw()

    def read_out(self) -> None:
        scene = self.scene
        self._say_plot()
        self.host.publish(
            "readings",
            [
                {
                    "symbol": reading.symbol,
                    "words": reading.words,
                    "value": "?" if reading.tells and not scene.answers_shown else reading.value,
                    "unit": reading.unit,
                    "formula": "" if reading.tells and not scene.answers_shown else reading.formula,
                }
                for reading in scene.readings()
            ],
        )
        self.host.publish("scales", scene.scales())
        self._say_tally()
        self.host.publish(
            "marks", [{"name": m.name, "colour": m.colour, "x": m.x, "y": None if m.y != m.y else m.y} for m in scene.marks()]
        )
        self.host.publish("says", scene.says() if scene.answers_shown else self._says_while_hidden())

    def _say_tally(self) -> None:
        self.host.publish("tally", self.tally.shown(self.prediction, self.host.count("class")))

    def _say_plot(self) -> None:
        plot = self.scene.plot()
        if plot is self._plotted and plot is not None:
            return
        self._plotted = plot
        self.host.publish("plot", None if plot is None else described_plot(plot))

    def _says_while_hidden(self) -> str:
        """What to say while the answer is hidden; the question itself is spoken elsewhere."""
        return "The answer is hidden until the question is answered." if self.prediction.waiting else "The answer arrows are hidden."

    # changing scenes

    def _scene(self, name: str) -> Scene:
        """The scene of that name, made on first use and kept, since what is drawn cannot be freed."""
        if name not in self.scenes:
            self.scenes[name] = catalogue.scene_class(name)()
        return self.scenes[name]

    def _put_on_the_bench(self, scene: Scene) -> None:
        if not scene.built:
            scene.build(self.host)
            scene.built = True
        self.prediction.enough()
        self.answers_shown = True
        if self.scene.built:
            self.scene.drawn.visible = False
        scene.may_wait = self.scene.may_wait
        self.scene = scene
        scene.drawn.visible = True
        scene.restart()
        self.host.chart.clear()
        self.host.publish("scene", described(scene))
        self.show_state()
