"""What the page of one of many is sent of a question: the set-up at rest, in three dimensions, and the question without its answer.

Each scene is built once. For a question it is set up, drawn with the answer hidden, and read back: only what is in sight is sent. So a
page holds nothing that it does not show. In practice the same set-up comes again with the hand that a mistake holds, and with the answer.
"""

from __future__ import annotations

import copy
import json
from collections import OrderedDict
from collections.abc import Collection
from dataclasses import dataclass, field
from typing import Any

from scenes import catalogue
from scenes.bench.prediction import Prediction
from scenes.marked.questions import Asked
from scenes.scene.described import described, described_mark, described_plot, described_readings, described_view
from scenes.scene.scene import Scene
from visual.host import messages
from visual.host.bridge import ObjectStream
from visual.host.server import Host
from visual.solid import lights

# controls of the bench alone: how it is shown, what is asked on it
OF_THE_BENCH = ("slow", "asked", "asked-starter", "part", "bold", "colours", "curves")
MOST_KEPT = 64  # papers: two for each of a class of thirty
Command = dict[str, Any]


@dataclass(frozen=True)
class Paper:
    """A question that was put: how it is answered, what the page is told, what answers it in the picture, the calculations that belong
    to it, and what is in sight: the things' numbers, the commands that make them, and how they stand."""

    prediction: Prediction
    told: messages.Published
    picks: tuple[messages.Pick, ...]
    offered: dict[str, dict[str, float | str]]
    things: frozenset[int]
    commands: tuple[Command, ...]
    places: tuple[str, ...]

    @property
    def set_up(self) -> str:
        """What the trainee is told of the set-up, and from where it is seen, in a line."""
        given = [f"{one['words']}: {one['value']} {one['unit']}".rstrip() for one in self.told.get("given", [])]
        views, seen = self.told["scene"]["views"], self.told["view"]["name"]
        return "; ".join([*given, *(f"view: {view['words']}" for view in views if view["name"] == seen)])

    def put(self) -> Prediction:
        """The question, to be answered by one."""
        return copy.copy(self.prediction)

    def answered(self, given: str) -> Prediction:
        """The question with that answer given; `ValueError`, in a sentence, if it is none."""
        prediction = self.put()
        prediction.answer(given)
        return prediction

    def workings(self) -> dict[str, dict[str, float | str]]:
        return self.offered


@dataclass
class Brought:
    """What a page has been sent so far: things, and of each shape the thing that it was sent with."""

    begun: bool = False
    things: set[int] = field(default_factory=set)
    shapes: dict[int, int] = field(default_factory=dict)

    def take(self, command: Command, shapes: dict[int, Any]) -> Command:
        """A command as this page is sent it; `shapes`: by the thing that first had it."""
        self.things.add(command["idx"])
        first = command.get("like", command["idx"])
        if first not in shapes:
            return command
        rest = {name: value for name, value in command.items() if name not in ("mesh", "like")}
        if first in self.shapes:
            return rest | {"like": self.shapes[first]}
        self.shapes[first] = command["idx"]
        return rest | {"mesh": shapes[first]}


class Built:
    """A scene that is built, with everything that it has drawn so far: some draw more when it is first needed."""

    def __init__(self, scene: Scene, host: Host):
        self.scene, self.stream = scene, ObjectStream()
        scene.ensure_built(host)
        scene.drawn.visible = True
        self.commands: dict[int, Command] = {}
        self.drain()

    def drain(self) -> None:
        """Take over what was drawn since."""
        self.stream.drain()
        for text in self.stream.commands[len(self.commands) :]:
            command = json.loads(text)
            self.commands[command["idx"]] = command


class Papers:
    """Puts questions, and remembers the newest."""

    def __init__(self, host: Host):
        self.host = host
        host.stream.drain()
        self._always = [json.loads(text) for text in host.stream.commands]  # the picture itself, and the light
        self._shapes: dict[int, Any] = {}
        self._built: dict[str, Built] = {}
        self._kept: OrderedDict[tuple, Paper] = OrderedDict()

    def build(self, name: str) -> Built:
        """The scene of that name as it is drawn, made on first use."""
        if name not in self._built:
            self._built[name] = Built(catalogue.scene_class(name)(), self.host)
        return self._built[name]

    def paper(self, asked: Asked, mistake: str = "", answered: bool = False) -> Paper:
        """That question, put; with the hand that a mistake holds, or with the answer."""
        key = asked, mistake, answered
        if key not in self._kept:
            self._kept[key] = self._drawn(asked, mistake, answered)
            while len(self._kept) > MOST_KEPT:
                self._kept.popitem(last=False)
        self._kept.move_to_end(key)
        return self._kept[key]

    def set_up(self, asked: Asked) -> tuple[Scene, Prediction]:
        """The scene as it is asked about, and the question."""
        scene, prediction = self.build(asked.scene).scene, Prediction()
        scene.look(scene.views[0].name)
        prediction.ask(scene, asked.seed, asked.kind)
        return scene, prediction

    def _drawn(self, asked: Asked, mistake: str, answered: bool) -> Paper:
        built, (scene, prediction) = self.build(asked.scene), self.set_up(asked)
        if answered:
            prediction.reveal()
            prediction.uncover(scene)
        lights.shine_along(scene.eye.forward)
        scene.draw(answered, mistake)
        built.drain()
        self._shapes |= {index: command["mesh"] for index, command in built.commands.items() if "mesh" in command}
        # another scene may copy a thing of this one that has the shape of a thing before it
        self._shapes |= {
            index: self._shapes[like] for index, command in built.commands.items() if (like := command.get("like")) in self._shapes
        }
        things = set() if prediction.covers else ObjectStream.in_sight(built.commands)
        light = {key: text for key, text in built.stream.attributes.items() if key[0] not in built.commands}
        places = ObjectStream.in_order(light | ObjectStream.as_they_are(things))
        commands = tuple(command for index, command in built.commands.items() if index in things)
        answers = {value for value, _ in prediction.posed.choices} if prediction.waiting and prediction.posed.pressed else set()
        picks = tuple(pick for pick in prediction.picks(scene, answered) if pick["name"] in answers)
        told = _told(scene, prediction)
        return Paper(prediction, told, picks, scene.workings(), frozenset(things), commands, tuple(places))

    def published(self, paper: Paper, brought: Brought) -> messages.Published:
        """The question with its picture, for a page that has been sent what is `brought`, and now more."""
        fresh, brought.begun = not brought.begun, True
        away = ObjectStream.hidden(brought.things - paper.things)
        new = [brought.take(command, self._shapes) for command in paper.commands if command["idx"] not in brought.things]
        drawn: messages.Stream = {"cmds": [*self._always, *new] if fresh else new, "attrs": [*away, *paper.places]}
        return paper.told | {"stream": drawn | {"fresh": True} if fresh else drawn}


def _told(scene: Scene, prediction: Prediction) -> messages.Published:
    """The question and its set-up in words and figures, without the words that answer most questions. The seed stays here, since
    whoever has the program could ask it there."""
    question, covered, answered = prediction.shown(), prediction.covers, not prediction.waiting
    assert question is not None  # it was just put
    plot = None if covered else scene.plot(answered)
    readings = described_readings(prediction.readings(scene, answered, told_alone=False), answered)
    return {
        "scene": described(scene) | {"principle": "", "narration": ""},
        "view": described_view(scene),
        "question": question | {"seed": None},
        "readings": [] if covered else [one for one in readings if one["value"] != "?"],
        "scales": {} if covered else scene.scales(),
        "plot": None if plot is None else described_plot(plot),
        "marks": [] if covered else [described_mark(mark) for mark in scene.marks(answered)],
        "given": _set_up(scene, prediction.drawn.kind.hides if prediction.drawn else ()),
    }


def _set_up(scene: Scene, hides: Collection[str]) -> list[messages.Given]:
    """How the scene is set, in words; not what is asked for, nor what is of no use here, such as how fast it runs."""
    left_out = {*OF_THE_BENCH, *scene.not_told, *hides}
    shown = [control for control in scene.controls if control.name not in left_out and _matters(scene, control)]
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
