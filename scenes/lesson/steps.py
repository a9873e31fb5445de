"""What a lesson is made of: steps on the bench, and pages of one's own between them."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field

from scenes.bench.prediction import Prediction
from scenes.lesson.pictures import Picture
from scenes.scene.question import Question
from scenes.scene.scene import Scene
from visual.host import messages


@dataclass(frozen=True)
class OfKind:
    """A question of one of the scene's kinds, by its name and the question's number."""

    kind: str
    number: int = 1


@dataclass(frozen=True)
class Step:
    """One step: what is set up, captioned and asked; without a scene, a page of one's own.

    `question` is True for the scene's question about this set-up, the number of a question that brings its own set-up, one of another
    kind, which brings what `settings` do not say, or a question of one's own. `vote`: going on shows the class's votes large,
    asks again, and shows both, before the answer. `readings` are the names of those that matter, in their order; the others are folded
    away. `minutes` are planned for it, 0 if none are. A page has a `title`, a `text` and a `picture`, at least one of them: the picture
    is named as in the lesson's file, and `shows` says in words what is to be seen in it.
    """

    scene: str = ""
    settings: dict = field(default_factory=dict)
    view: str | None = None
    readings: tuple[str, ...] = ()
    caption: str = ""
    notes: str = ""
    question: bool | int | OfKind | Question = False
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

    def put_question(self, prediction: Prediction, scene: Scene) -> None:
        """Put this step's question; `ValueError` if that is impossible."""
        if isinstance(self.question, Question):
            prediction.ask_present(scene, self.question)
        elif isinstance(self.question, OfKind):
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
