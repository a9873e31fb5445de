"""The bench on which a lesson is made: what stands on it becomes a step, and steps are changed on the page. Every change is kept in the
lesson's file at once, and what is written to the file elsewhere is taken over."""

from __future__ import annotations

import time
from collections.abc import Callable

from physics.arguments import quoted
from scenes.lesson.draft import OF_A_KIND, Draft, typed_question
from scenes.lesson.lesson_bench import SPEAKERS_PAGE, LessonBench
from scenes.lesson.lesson_file import Changed, LessonFile
from scenes.lesson.own_question import lacks, own_question
from scenes.lesson.pictures import LARGEST
from scenes.lesson.prepared import fields, listed
from scenes.lesson.steps import OfKind, Step
from scenes.questions.kinds import Drawn, draw, in_words
from scenes.scene.scene import Scene
from visual.host import messages
from visual.host.endpoints import Endpoint

INSTRUCTOR = "bench"  # the role of the page that prepares, and is told what the class is not
LOOK_EVERY = 1.0  # s
NOT_YET_A_STEP = "Not yet a step: press \u201cAdd this set-up\u201d to make it one."
NEW_PAGE = {"title": "A new page"}
BY_HAND = ("set", "reverse", "join", "press")
SEE_WHETHER = "See whether the caption still fits."
OF_THE_SET_UP = ("scene", "settings", "view", "answers")


def endpoint(file: LessonFile) -> Endpoint:
    """The bench's page, which may upload pictures, and the speaker's."""
    return Endpoint(beside=(SPEAKERS_PAGE,), upload=file.upload, largest_upload=2 * LARGEST)  # what is too large is told so


# Long, for a change on the page and one in the file end in the same place: the lesson that is given from then on.
class PrepareBench(LessonBench):
    """A bench stepped through a lesson that can be changed on the page while it is `opened` for that."""

    def __init__(self, host, draft: Draft, file: LessonFile, opened: bool = False, clock=time.monotonic):
        self.draft = draft
        self.file = file
        self.opened = opened
        self.unsound = ""  # what is wrong with what somebody has written to the file
        self._looked = clock()
        self._set_by_hand: dict[str, dict] = {}  # by scene
        self._news = ""  # to be told with what was done
        self._not_put = ""  # why the question that was chosen last for a step cannot be put; told at its menu
        super().__init__(host, draft.lesson, clock)
        self.actions |= {
            messages.Prepare: lambda it: self.prepare(it.on),
            messages.AddStep: lambda it: self.add(NEW_PAGE if it.page else self._standing()),
            messages.ArrangeStep: lambda it: self.arrange(it.number, it.how),
            messages.ChangeStep: lambda it: self.change(it.number, it.name, it.value, it.typing),
            messages.AskOwn: lambda it: self.write_own(it.number, typed_question(it.text, it.choices, it.right, it.reason), it.typing),
            messages.NameLesson: lambda it: self.edit(lambda: draft.called(it.title), ("title",), it.typing),
            messages.Undo: lambda it: self.undo(it.again),
        }

    def prepare(self, on: bool) -> None:
        self.opened = on

    def _is_given(self) -> None:
        if not self.opened:
            super()._is_given()

    def receive(self, message: dict, viewer=None) -> None:
        self._news, scene, before = "", self.scene, dict(self.scene.settings)
        super().receive(message, viewer)
        if message.get("do") in BY_HAND and scene is self.scene:
            changed = {name: value for name, value in scene.settings.items() if value != before[name]}
            self._set_by_hand.setdefault(scene.name, {}).update(changed)
        if self._news:
            self.tell(self._news)

    def write_own(self, number: float, table: dict, typing: bool) -> None:
        """Keep a question of one's own as far as it is written, and put it once it is whole; what is wrong with it is told."""
        self.edit(lambda: self.draft.write_own(number, table), (number, "own"), typing)
        if not lacks(table):
            own_question(table)

    def change(self, number: float, name: str, value: messages.Scalar | None, typing: bool = False) -> None:
        """Change one thing of a step; what a question that brings a set-up changes by it is told."""
        scene, before = self.scene, self._true_settings()
        try:
            self.edit(lambda: self.draft.type(number, name, value), (number, name), typing)
        except ValueError as wrong:
            if name not in ("question", *OF_A_KIND) or self.unsound or not self.opened:
                raise
            self._not_put = str(wrong)
        changed = {name: value for name, value in self._true_settings().items() if scene is self.scene and value != before[name]}
        if changed and self.step.numbered is not None:
            self._news = f"Question {self.step.numbered} has changed the set-up: {_change(scene, before, changed)}. {SEE_WHETHER}"

    def _true_settings(self) -> dict:
        """Of what stands on the bench, with what a question hides."""
        return dict(self.scene.settings) | (self.prediction.drawn.settings if self.prediction.drawn else {})

    def edit(self, does: Callable[[], None], what: tuple | None = None, typing: bool = False) -> None:
        """Change the draft, where it is typed `what`, which may still go on; `ValueError`, in a sentence, if that is impossible now."""
        self._not_put = ""
        if not self.opened:
            raise ValueError("The lesson can be changed while Prepare is open.")
        if self.unsound:
            raise ValueError(f"Nothing can be changed here until the file is right again: {self.unsound}")
        with self.draft.typed(what, typing):
            self._take_over(does)
        self.file.keep(self.draft.document.text)

    def undo(self, again: bool) -> None:
        """Undo a change, or make it `again`; a step that comes back by it is shown."""
        before = {part.number for part in self.draft.document.parts}
        self.edit(self.draft.redo if again else self.draft.undo)
        back = [place for place, part in enumerate(self.draft.document.parts) if part.number not in before]
        if back:
            self.go_to(back[0])

    def add(self, given: dict) -> None:
        self.edit(lambda: self.draft.insert(self.place + 1, given))
        self.go_to(self.place + 1)

    def arrange(self, number: float, how: str) -> None:
        """Move, copy, take out, set up anew or show the step with that number."""
        here = self.draft.document.place(number)
        if how == "show":
            self.go_to(here)
        elif how == "copy":
            self.edit(lambda: self.draft.copy(number))
            self.go_to(here + 1)
        elif how == "set-up":
            self.edit(lambda: self.draft.say(number, **self._set_up_anew(here)))
        elif how == "remove":
            self.edit(lambda: self.draft.remove(number))
        elif how in ("up", "down"):
            self.edit(lambda: self.draft.move(number, here + (1 if how == "down" else -1)))
        else:
            raise ValueError(f"A step is arranged by up, down, copy, remove, set-up or show, not {quoted(how)}.")

    def go_to_scene(self, name: str) -> None:
        """While the lesson is made, a scene is chosen to set up, not to look for its step: it begins as usual, with what was set by hand,
        and without what a question or another step has set."""
        if self.opened:
            scene = self._scene(name)
            scene.set_all(scene.defaults | self._set_by_hand.get(name, {}))
            self.show(name)
        else:
            super().go_to_scene(name)

    @property
    def address(self) -> str:
        """None while the lesson is made: opened again, it begins with its first step."""
        return "" if self.opened else super().address

    def _standing(self) -> dict:
        """What stands on the bench, as a step has it."""
        scene = self.scene
        if self.page is not None:
            raise ValueError("A page covers the bench; choose a demonstration first.")
        settings = {control.name: scene[control.name] for control in scene.controls if scene[control.name] != control.default}
        waits = self.prediction.waiting
        asked = {"question": True} if waits and self.prediction.own is None else {}
        if waits and self.prediction.drawn is not None:
            asked, settings = self._of_a_kind(self.prediction.drawn)
        return {
            "scene": scene.name,
            **({"settings": settings} if settings else {}),
            **({"view": scene.view} if scene.view != scene.views[0].name else {}),
            **asked,
            **({} if waits or self.answers_shown else {"answers": False}),
        }

    def _of_a_kind(self, drawn: Drawn) -> tuple[dict, dict]:
        """A question of a kind that waits, and what is set for it: nothing where its number brings that."""
        kind, number = drawn.kind.name, self.prediction.seed
        if number is not None and draw(self.scene, drawn.kind, number).settings == drawn.settings:
            return {"question": {"kind": kind, "number": number}}, {}
        set_so = {name: value for name, value in drawn.settings.items() if value != self.scene.by_name[name].default}
        return {"question": {"kind": kind}}, set_so

    def _set_up_anew(self, place: int) -> dict:
        """What a step says when it is given the set-up that stands on the bench: readings that this does not have are gone."""
        step, standing = self.lesson.steps[place], self._standing()
        if not step.scene:
            raise ValueError("A page has no set-up; add this set-up as a step of its own.")
        there = {reading.name for reading in self.scene.readings()}
        asked = standing.pop("question", None)  # it keeps its own, but for one that brings a set-up along
        kept = [name for name in step.readings if name in there]
        own: object = {"kind": step.question.kind} if isinstance(step.question, OfKind) else True
        asks = {"question": asked if isinstance(asked, dict) else own} if type(step.question) in (int, OfKind) else {}
        return dict.fromkeys(OF_THE_SET_UP) | {"readings": kept} | standing | asks

    def _put(self) -> str:
        """The question of the demonstration that the step puts, in words."""
        asked = self.prediction.question
        return asked.text if asked and self.step.question and self.prediction.own is None else ""

    def go_to(self, place: int) -> None:
        self._not_put = ""
        super().go_to(place)

    def _take_over(self, does: Callable[[], None]) -> None:
        """Change the draft, give the lesson in it from now on, and set up the present step again if that was changed, or is gone."""
        number, before = self.draft.document.parts[self.place].number, self.step
        does()
        self.take(self.draft.lesson)
        places = [place for place, part in enumerate(self.draft.document.parts) if part.number == number]
        self.place = places[0] if places else self.place
        if not places or _set_up(self.step) != _set_up(before):
            self.go_to(self.place)
        elif self.page is not None:
            self.page = self.step

    def _one_picture(self, seconds: float) -> None:
        super()._one_picture(seconds)
        if self._clock() - self._looked >= LOOK_EVERY:
            self._looked = self._clock()
            if self.file.not_kept:
                self.file.keep(self.draft.document.text)
            else:
                self.file.look()
            self._show_preparing()
        for news in self.file.news():
            self._hear(news)
            self.show_state()

    def _hear(self, news: Changed) -> None:
        """Somebody has written to the file elsewhere."""
        text = news.text
        try:
            if text is None:
                raise ValueError(f"{self.file.path} is not UTF-8 text, as a lesson must be.")
            self._take_over(lambda: self.draft.read_anew(text))
            self.unsound = ""
            self.tell("The lesson was changed in its file, and has been read again.")
        except ValueError as wrong:
            self.unsound = str(wrong)
            self.tell(self.unsound)

    def show_state(self) -> None:
        super().show_state()
        if self.opened and self.page is None and self.scene.name != self.step.scene:
            self.host.publish(step=self.host.published["step"] | {"caption": NOT_YET_A_STEP})
        self._show_preparing()

    def _show_preparing(self) -> None:
        here = self.draft.document.parts[self.place].number
        self.host.publish_to(
            INSTRUCTOR,
            preparing={
                "open": self.opened,
                "file": str(self.file.path),
                "title": self.lesson.title,
                "wrong": self.unsound or self.file.not_kept,
                "steps": listed(self.lesson, self.draft.document) if self.opened else [],
                "here": fields(here, self.step, self.picture_of(self.step), self._put(), self._not_put) if self.opened else None,
                "can_undo": self.draft.can_undo,
                "can_redo": self.draft.can_redo,
            },
        )


def _set_up(step: Step) -> tuple:
    """What has to be set up again when it is changed."""
    return step.scene, step.settings, step.view, step.question, step.answers, step.hold


def _change(scene: Scene, before: dict, changed: dict) -> str:
    """What is changed, in words."""
    of = {name: scene.by_name[name] for name in changed}
    return ", ".join(
        f"{of[name].words} from {in_words(of[name], [before[name]])} to {in_words(of[name], [value])}" for name, value in changed.items()
    )
