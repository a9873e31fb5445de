"""What a trainee's page is sent of a question: the set-up at rest, in three dimensions, and the question without its answer.

Each scene is built once. For a question it is set up, drawn with the answer hidden, and read back; what is hidden then is not sent
at all, but for that it is hidden. So a page holds nothing that it does not show.
"""

from __future__ import annotations

import copy
import json
from collections import OrderedDict
from collections.abc import Iterable
from dataclasses import dataclass, field
from typing import Any

from scenes import catalogue
from scenes.bench.prediction import Prediction
from scenes.scene.described import described, described_mark, described_plot, described_readings, described_view
from scenes.scene.scene import Question, Scene
from visual.host import messages
from visual.host.bridge import ObjectStream
from visual.host.server import Host
from visual.solid import lights

MOST_KEPT = 64  # papers: two for each of a class of thirty


@dataclass(frozen=True)
class Paper:
    """A question that was put: the scene and its seed, how it is answered, what the page is told, and where everything drawn is."""

    scene: str
    seed: int
    prediction: Prediction
    told: messages.Published
    places: list[str]

    def answered(self, given: str) -> Prediction:
        """The question with that answer given; `ValueError`, in a sentence, if it is none."""
        prediction = copy.copy(self.prediction)
        prediction.answer(given)
        return prediction


@dataclass
class Built:
    """A scene that is built: the commands that make what is drawn, and these things' numbers."""

    scene: Scene
    commands: list[dict[str, Any]]
    things: set[int] = field(default_factory=set)


class Papers:
    """Puts questions, and remembers the newest."""

    def __init__(self, host: Host):
        self.host = host
        host.stream.drain()
        self._built: dict[str, Built] = {}
        self._kept: OrderedDict[tuple[str, int], Paper] = OrderedDict()

    def build(self, name: str) -> Built:
        """The scene of that name as it is drawn, made on first use."""
        if name not in self._built:
            scene, stream = catalogue.scene_class(name)(), ObjectStream()
            scene.ensure_built(self.host)
            scene.drawn.visible = True
            stream.drain()
            commands = [json.loads(text) for text in stream.commands]
            self.host.stream.attributes |= stream.attributes
            self._built[name] = Built(scene, commands, {command["idx"] for command in commands})
        return self._built[name]

    def paper(self, name: str, seed: int) -> Paper:
        """The question of that seed in a scene."""
        if (name, seed) not in self._kept:
            self._kept[name, seed] = self._put(name, seed)
            while len(self._kept) > MOST_KEPT:
                self._kept.popitem(last=False)
        self._kept.move_to_end((name, seed))
        return self._kept[name, seed]

    def _put(self, name: str, seed: int) -> Paper:
        built, prediction = self.build(name), Prediction()
        scene = built.scene
        scene.look(scene.views[0].name)
        prediction.ask(scene, seed)
        lights.shine_along(scene.eye.forward)
        scene.draw(reveals_answer=False)
        self.host.stream.drain()
        shown = ObjectStream.in_sight(built.things)
        always = {key: text for key, text in self.host.stream.attributes.items() if key[0] in shown or key[0] in self._always}
        places = [*ObjectStream.hidden(built.things - shown), *ObjectStream.in_order(always)]
        return Paper(name, seed, prediction, _told(scene, prediction), places)

    @property
    def _always(self) -> set[int]:
        """What is there in every scene: the light."""
        return {index for index, _ in self.host.stream.attributes} - {thing for built in self._built.values() for thing in built.things}

    def published(self, paper: Paper, brought: Iterable[str]) -> messages.Published:
        """The question with its picture, for a page to which the shapes of the scenes `brought` have been sent before; for a page that
        has none, all that it needs."""
        built, before = self.build(paper.scene), [self._built[name] for name in brought]
        others = {thing for other in before if other is not built for thing in other.things}
        commands = [] if built in before else built.commands
        if not before:
            commands = [*(json.loads(text) for text in self.host.stream.commands), *commands]
        drawn: messages.Stream = {"cmds": commands, "attrs": [*ObjectStream.hidden(others), *paper.places]}
        return paper.told | {"stream": drawn if before else drawn | {"fresh": True}}


def _told(scene: Scene, prediction: Prediction) -> messages.Published:
    """The question and its set-up in words and figures, without the words that answer most questions. The seed stays here, since
    whoever has the program could ask it there."""
    plot, question = scene.plot(False), prediction.shown()
    assert question is not None  # it was just put
    return {
        "scene": described(scene) | {"principle": "", "narration": ""},
        "view": described_view(scene),
        "question": question | {"seed": None},
        "readings": described_readings(scene.readings(False), False),
        "scales": scene.scales(),
        "plot": None if plot is None else described_plot(plot),
        "marks": [described_mark(mark) for mark in scene.marks(False)],
        "given": _set_up(scene),
    }


def _set_up(scene: Scene) -> list[messages.Given]:
    """How the scene is set, in words; not what is of no use here, such as how fast it runs."""
    shown = [control for control in scene.controls if control.name != "slow" and _matters(scene, control)]
    return [{"words": control.words, "value": _in_words(control, scene[control.name]), "unit": control.unit} for control in shown]


def _matters(scene: Scene, control) -> bool:
    """Whether a control does something in this set-up."""
    if control.only_with is None:
        return True
    other, value = control.only_with
    return scene[other] == value and _matters(scene, scene.by_name[other])


def _in_words(control, value) -> str:
    if control.kind == "switch":
        return "on" if value else "off"
    return dict(control.choices).get(value, str(value)) if control.kind == "choice" else control.text(value).replace("-", "\N{MINUS SIGN}")


def mistake_in(question: Question, given: str) -> str | None:
    """What the mistake behind a wrong answer is called; `None` where it has no name."""
    return None
