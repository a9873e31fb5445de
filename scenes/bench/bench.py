"""The bench: what the pages ask for is carried out on the scene that runs on it."""

from __future__ import annotations

from physics.arguments import quoted
from scenes import catalogue
from scenes.bench.prediction import checked_seed
from scenes.bench.run_loop import RunLoop, log
from scenes.scene import address


# Long, for it has one short method for each thing that a page may ask.
class Bench(RunLoop):
    """A run loop that pages may ask to do something."""

    def __init__(self, host, first: str = catalogue.NAMES[0], settings: dict | None = None):
        self._refused: set[str] = set()
        super().__init__(host, first, settings)
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
        self._publish_tally()

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
