"""The bench: what the pages ask for is carried out on the scene that runs on it."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from physics.arguments import quoted
from scenes import catalogue
from scenes.bench import sharing
from scenes.bench.prediction import checked_seed
from scenes.bench.run_loop import RunLoop, log
from scenes.bench.workings import from_address
from scenes.scene import address
from visual.host import messages
from visual.host.encoding import request
from visual.host.server import Host


# Long, for it has one short method for each thing that a page may ask.
class Bench(RunLoop):
    """A run loop that pages may ask to do something."""

    def __init__(self, host: Host, first: str = catalogue.NAMES[0], settings: dict | None = None, may_wait: bool = False):
        self._refused: set[str] = set()
        super().__init__(host, first, settings, may_wait)
        self.actions: dict[type[messages.Request], Callable[[Any], None]] = {
            messages.Open: lambda it: self.open(it.address, it.run),
            messages.ShowScene: lambda it: self.show(it.name),
            messages.Next: lambda it: self.walk(1),
            messages.Previous: lambda it: self.walk(-1),
            messages.SetControl: lambda it: self.set(it.name, it.value),
            messages.Reverse: lambda it: self.reverse(it.what),
            messages.Join: lambda it: self.join(it.first, it.second),
            messages.Press: lambda it: self.press(it.name),
            messages.Run: lambda it: self.run(it.on),
            messages.OneStep: lambda it: self.one_step(),
            messages.Restart: lambda it: self.restart(),
            messages.ShowAnswers: lambda it: self.show_answers(it.shown),
            messages.Ask: lambda it: self.ask_present() if it.present else self.ask(it.seed, it.kind or None),
            messages.Answer: lambda it: self.answer(it.choice),
            messages.Draw: lambda it: self.answer(self.prediction.posed.drawn_as((it.x, it.y, it.z), (it.to_x, it.to_y, it.to_z))),
            messages.Reveal: lambda it: self.reveal(),
            messages.CloseQuestion: lambda it: self.enough(),
            messages.Look: lambda it: self.look(it.name),
            messages.ShowTally: lambda it: self.tally.open(it.large),
            messages.VoteAgain: lambda it: self.tally.again(self.prediction),
            messages.Work: lambda it: self.sheet.choose(it.topic, it.inputs),
        }
        host.on_message = self.receive

    def share(self) -> str:
        """Let a class follow; the sentence that says where."""
        return sharing.what_it_opens(sharing.share(self.host))

    def receive(self, message: dict, viewer=None) -> None:
        """Carry out a message. If that is impossible, say so in a sentence and change nothing."""
        if viewer is not None and viewer.role == "class":
            self.receive_from_the_class(message, viewer)
            return
        self.broken = False
        try:
            try:
                self.carry_out(request(message))
                self.tell("")
            except ValueError as wrong:
                self.tell(str(wrong))
            self.show_state()
        except Exception:
            self._hold_what_failed()

    def carry_out(self, wanted: messages.Request) -> None:
        """Do what a page asks for; `ValueError`, in a sentence, if that is impossible."""
        if type(wanted) not in self.actions:
            raise ValueError(f"There is nothing to {wanted.do} here.")
        self.actions[type(wanted)](wanted)

    def receive_from_the_class(self, message: dict, viewer) -> None:
        """A follower may answer the question that waits and is told whether the answer counts; anything else is refused, and
        nobody else is told."""
        refused = ""
        try:
            wanted = request(message)
            if isinstance(wanted, messages.Answer):
                self.tally.take(self.prediction, viewer.visitor, viewer.address, wanted.choice)
            elif not isinstance(wanted, messages.Open):  # every page says where it was opened
                raise ValueError("Followers may only answer.")
        except ValueError as wrong:
            refused = str(wrong)
            if refused not in self._refused and len(self._refused) < 20:
                self._refused.add(refused)
                log.warning("refused a follower's request: %r (%s)", message["do"][:40], refused)
        viewer.publish(vote=self.tally.vote(self.prediction, viewer.visitor, refused))
        self._publish_tally()

    def open(self, query: str, followed: str | None = None) -> None:
        """Bring the bench to the address at which a page was opened, unless it is there already, or the page is only
        reconnecting and `followed` this run of the program before."""
        if not query or followed == self.run_word:
            return
        name, settings, seed = address.read(query)
        kind = settings.pop("kind", None)
        working = from_address(settings)
        scene = self._scene(name) if name else self.scene
        view = None if "view" not in settings else scene.checked_view(settings.pop("view"))
        number = None if seed is None else checked_seed(seed)
        checked = {key: scene.by_name[key].checked(value) for key, value in settings.items() if key in scene.by_name}
        unknown = [key for key in settings if key not in scene.by_name]
        if scene is not self.scene:
            self._put_on_the_bench(scene)
        if number is not None and (number, kind) != (self.prediction.seed, self.prediction.kind):
            self.ask(number, kind)
        elif any(scene[key] != value for key, value in checked.items()):
            scene.set_all(checked)
            scene.restart()
            self.prediction.reset(scene)
            self.host.chart.clear()
        if view is not None:
            self.look(view)
        self.sheet.open_address(working)
        if unknown:
            raise ValueError(f"The address names {quoted(', '.join(unknown))}, which {scene.name} does not have.")

    def show(self, name: str) -> None:
        self._put_on_the_bench(self._scene(name))

    def walk(self, steps: int) -> None:
        place = catalogue.NAMES.index(self.scene.name) + steps
        self.show(catalogue.NAMES[max(0, min(len(catalogue.NAMES) - 1, place))])

    def set(self, name: str, value: messages.Scalar) -> None:
        try:
            self.scene.set(name, value)
        finally:  # a refused value may have been kept: an impossible nameplate is reported and stays to be corrected
            self.prediction.reset(self.scene)

    def reverse(self, what: str) -> None:
        self.scene.reverse(what)
        self.prediction.reset(self.scene)

    def join(self, first: str, second: str) -> None:
        self.scene.join(first, second)
        self.prediction.reset(self.scene)

    def press(self, name: str) -> None:
        """Answer with the thing that is pressed, where the question that waits may be answered so; else what the scene does with it."""
        if self.prediction.waiting and self.prediction.posed.pressed:
            self.answer(name)
            return
        elsewhere = self.scene.press(name)
        if elsewhere:
            self.open(elsewhere)
        else:
            self.prediction.reset(self.scene)

    def run(self, on: bool) -> None:
        self.running, self.held_for_its_figure = on, False

    def one_step(self) -> None:
        self.running = self.held_for_its_figure = False
        if not self.prediction.waiting:
            self.scene.one_step()
            self._add_to_chart()

    def show_answers(self, shown: bool) -> None:
        if self.prediction.waiting:
            raise ValueError("The answer stays hidden until the question is answered.")
        self.answers_shown = shown

    def ask(self, seed=None, kind: str | None = None) -> None:
        self.prediction.ask(self.scene, seed, kind)
        self._asked()

    def ask_present(self) -> None:
        self.prediction.ask_present(self.scene)
        self._asked()

    def _asked(self) -> None:
        self.answers_shown = False
        self.host.chart.clear()

    def answer(self, choice: str) -> None:
        self.prediction.answer(choice)
        if not self.prediction.waiting:
            self._answered()

    def reveal(self) -> None:
        """Show the answer to the question that waits without anyone giving one."""
        self.prediction.reveal()
        self._answered()

    def _answered(self) -> None:
        """What was hidden happens; a figure of that instant is held, so that it can be read beside the answer."""
        self.answers_shown = True
        self.held_for_its_figure = self.prediction.posed.of_its_start
        self.running = not self.held_for_its_figure
        self.prediction.uncover(self.scene)

    def enough(self) -> None:
        self.prediction.enough()
        self._go_on()
        self.answers_shown = True

    def look(self, name: str) -> None:
        """Change to another ready view; a question that waits is reworded for it."""
        self.scene.look(name)
        self.prediction.reword(self.scene)
