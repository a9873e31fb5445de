"""What a lesson is made of: steps on the bench, and pages of one's own between them."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field

from scenes import catalogue
from scenes.bench.prediction import LARGEST_SEED, Prediction
from scenes.lesson.pictures import Picture
from scenes.scene.question import Question
from scenes.scene.scene import Scene
from visual.host import messages

TRIED = 12  # questions, till one is another


@dataclass(frozen=True)
class OfKind:
    """A question of one of the scene's kinds, by its name: about what is set up, which of those there are by `about`, or, with a
    `number`, about what that brings."""

    kind: str
    number: int | None = None
    about: int = 1


@dataclass(frozen=True)
class Step:
    """One step: what is set up, captioned and asked; without a scene, a page of one's own.

    `question` is True for the scene's question about this set-up, the number of a question that brings its own set-up, one of another
    kind about this set-up, or with a number, which brings what `settings` do not say, or a question of one's own. `begun` is one of
    one's own that is written but not put: it is not whole yet, or set aside. `vote`: going on shows the class's votes large, asks
    again, and shows both, before the answer. `readings` are the names of those that matter, in their order; the others are folded
    away. `minutes` are planned for it, 0 if none are. A page has a `title`, a `text` and a `picture`, at least one of them: the
    picture is named as in the lesson's file, and `shows` says in words what is to be seen in it.
    """

    scene: str = ""
    settings: dict = field(default_factory=dict)
    view: str | None = None
    readings: tuple[str, ...] = ()
    caption: str = ""
    notes: str = ""
    question: bool | int | OfKind | Question = False
    begun: dict = field(default_factory=dict)
    vote: bool = False
    go_on: bool = False
    hold: bool = False
    answers: bool = True
    minutes: float = 0.0
    title: str = ""
    text: str = ""
    picture: str = ""
    shows: str = ""

    @property
    def heading(self) -> str:
        """What the step is called in a list: its caption, or a page's title or the first words on it."""
        return self.caption or self.title or self.text.strip().split("\n")[0] or self.shows

    @property
    def in_words(self) -> str:
        """All that is on a page, in words."""
        return ". ".join(filter(None, (self.title, " ".join(self.text.split()), self.shows)))

    def as_page(self, picture: str) -> messages.OwnPage:
        """A page as it is shown; `picture` is the address of its picture."""
        return {"title": self.title, "text": self.text, "picture": picture, "shows": self.shows}

    def checked(self, scene: Scene) -> dict:
        """Its settings, as the scene keeps them."""
        return {name: scene.by_name[name].checked(value) for name, value in self.settings.items()}

    def set_up(self, scene: Scene) -> None:
        """Restart the scene as this step wants it, everything else at its default; `ValueError` if that is impossible."""
        self.change(scene)
        scene.restart()

    def change(self, scene: Scene) -> None:
        """Change the settings to this step's without stopping the motion."""
        scene.set_all({control.name: control.default for control in scene.controls} | self.settings)
        scene.look(self.view or scene.views[0].name)

    @property
    def numbered(self) -> int | None:
        """The number of its question, where that brings a set-up."""
        if isinstance(self.question, OfKind):
            return self.question.number
        return self.question if type(self.question) is int else None

    def brought(self) -> dict:
        """What a question that brings a set-up sets of its scene, where it differs from the usual."""
        scene = catalogue.scene_class(self.scene)()
        prediction = Prediction()
        self.set_up(scene)
        self.put_question(prediction, scene)
        found = prediction.drawn.settings if prediction.drawn else scene.settings
        return {name: value for name, value in found.items() if value != scene.by_name[name].default}

    def another_question(self, way: int) -> object:
        """Another question of the same kind, as the file has it: of the next number that way, or the next about the same set-up."""
        if self.numbered is not None:
            number = min(LARGEST_SEED, max(1, self.numbered + way))
            return {"kind": self.question.kind, "number": number} if isinstance(self.question, OfKind) else number
        if not isinstance(self.question, OfKind):
            raise ValueError("Choose one of the demonstration's kinds of question first.")
        return {"kind": self.question.kind, "about": self._another_about(self.question, way)}

    def _another_about(self, asked: OfKind, way: int) -> int:
        """By which `about` that kind puts another question, the next one that way; `ValueError` if there is none."""
        scene = catalogue.scene_class(self.scene)()
        self.set_up(scene)
        prediction = Prediction()
        prediction.ask_about(scene, asked.kind, self.checked(scene), asked.about)
        text = prediction.posed.text
        for other in (each for step in range(1, TRIED + 1) if 1 <= (each := asked.about + way * step) <= LARGEST_SEED):
            self.set_up(scene)
            prediction.ask_about(scene, asked.kind, self.checked(scene), other)
            if prediction.posed.text != text:
                return other
        raise ValueError(f"There is no {'other' if way > 0 else 'earlier'} question of that kind about this set-up.")

    def put_question(self, prediction: Prediction, scene: Scene) -> None:
        """Put this step's question; `ValueError` if that is impossible."""
        if isinstance(self.question, Question):
            prediction.ask_present(scene, self.question)
        elif isinstance(self.question, OfKind):
            if self.question.number is None:
                prediction.ask_about(scene, self.question.kind, self.checked(scene), self.question.about)
            else:
                prediction.ask(scene, self.question.number, self.question.kind, self.checked(scene))
            if self.view:
                scene.look(self.view)
                prediction.reword(scene)
        elif self.question is True:
            prediction.ask_present(scene)
        elif self.question is not False:
            prediction.ask(scene, self.question)


@dataclass(frozen=True)
class Lesson:
    """Title, steps and, by the name in the lesson's file, the pictures on its pages."""

    title: str
    steps: tuple[Step, ...]
    pictures: Mapping[str, Picture] = field(default_factory=dict)
