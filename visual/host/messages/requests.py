"""What a page may ask for."""

from __future__ import annotations

from dataclasses import dataclass
from typing import ClassVar, dataclass_transform

from visual.host.messages.values import Scalar

REQUESTS: dict[str, type[Request]] = {}


@dataclass_transform(frozen_default=True)
class Request:
    """What a page asks for: each a frozen dataclass. A `Scalar` is checked by whoever knows what it may be, such as the control that it
    is for."""

    do: ClassVar[str]

    def __init_subclass__(cls, do: str) -> None:
        cls.do = do
        REQUESTS[do] = dataclass(frozen=True)(cls)


class Ready(Request, do="ready"):
    """The last message is on screen: send the next."""


class Alive(Request, do="alive"):
    """A ping, answered once all earlier messages are handled."""


class Open(Request, do="open"):
    """The page was opened at this address. `run` is the run of the program that it followed there before, so that it must not
    bring that address back."""

    address: str
    run: str | None = None


class ShowScene(Request, do="scene"):
    name: str


class Next(Request, do="next"):
    """The next scene, or step of a lesson."""


class Previous(Request, do="previous"):
    """The previous scene, or step of a lesson."""


class SetControl(Request, do="set"):
    name: str
    value: Scalar


class Reverse(Request, do="reverse"):
    """Reverse what carries that role: "current" or "field"."""

    what: str


class Join(Request, do="join"):
    """Join two of the scene's `picks`, or take apart what joins them."""

    first: str
    second: str


class Press(Request, do="press"):
    """Press one of the scene's `picks` that stands alone."""

    name: str


class Run(Request, do="run"):
    """Run, or pause."""

    on: bool


class OneStep(Request, do="step"):
    """Pause, and go one step further."""


class Restart(Request, do="restart"):
    """Begin again with the present settings."""


class ShowAnswers(Request, do="answers"):
    """Show or hide the arrows that give the answer away."""

    shown: bool


class Ask(Request, do="ask"):
    """Put a question: at random, the one of that seed, or the one about the set-up that is there; `kind`: one of the scene's kinds."""

    seed: Scalar = None
    present: bool = False
    kind: str = ""


class Answer(Request, do="answer"):
    """`place`: in a marked test, which question it answers, counted from 1."""

    choice: str
    place: float | None = None


class Draw(Request, do="draw"):
    """Answer with an arrow drawn in the picture: the directions on the bench of the lines of sight through its foot and its tip."""

    x: float
    y: float
    z: float
    to_x: float
    to_y: float
    to_z: float


class Reveal(Request, do="reveal"):
    """Show the answer though nobody gave one."""


class CloseQuestion(Request, do="enough"):
    """Put the question away."""


class Look(Request, do="view"):
    """Change to the ready view of that name."""

    name: str


class ShowTally(Request, do="tally"):
    """Show how the class answers while the question still waits; `large`: over the picture."""

    large: bool = False


class VoteAgain(Request, do="again"):
    """Ask the class once more, and show both counts in the end."""


class Work(Request, do="work"):
    """Open a calculation, or none; `inputs` are those entered by hand, as in an address: "speed=1440&poles=4"."""

    topic: str
    inputs: str = ""


class StartClock(Request, do="clock"):
    """In a lesson: it begins now, or anew."""


class Prepare(Request, do="prepare"):
    """In a lesson from a file of one's own: open it for changes, or close it."""

    on: bool


class AddStep(Request, do="add"):
    """While it is open: make a step of what stands on the bench, or a page of one's own."""

    page: bool = False


class ArrangeStep(Request, do="arrange"):
    """The step with that `number`: "up", "down", "copy", "remove", "set-up" (give it the one that stands on the bench) or "show"."""

    number: float
    how: str


class ChangeStep(Request, do="change"):
    """Change one thing that a step says; `typing`: more of it may follow, and all of that is undone as one."""

    number: float
    name: str
    value: Scalar
    typing: bool = False


class AskOwn(Request, do="own"):
    """Give a step a question of one's own, or what is written of it: each choice on a line, the `right` one counted from 1, 0 if none
    is chosen yet; `typing` as above."""

    number: float
    text: str
    choices: str
    right: float
    reason: str
    typing: bool = False


class NameLesson(Request, do="title"):
    title: str
    typing: bool = False


class Undo(Request, do="undo"):
    """Undo the last change to the lesson, or make an undone one `again`."""

    again: bool = False


class Touch(Request, do="touch"):
    """On a stand: somebody is there; `again`: still with the same touch."""

    again: bool = False


class Try(Request, do="try"):
    """On a stand: do what the button of that number at this stop says, counted from 0."""

    number: float


class Turn(Request, do="turn"):
    """On a stand: a finger turns the machine, by so many revolutions a second in the picture, clockwise."""

    speed: float


class Speak(Request, do="speak"):
    """On a stand: go on in the language of that code."""

    language: str


class Begin(Request, do="begin"):
    """In a marked test: begin it under this name."""

    name: str


class Readmit(Request, do="readmit"):
    """In a marked test, from the instructor: whoever types this name next goes on with that test."""

    name: str


class EndSitting(Request, do="end"):
    """In a marked test, from the instructor: hand in for the trainee of this name, or for everybody who has not ended."""

    name: str | None = None


class BeginMock(Request, do="mock"):
    """In practice: begin a mock test of so many questions and minutes."""

    questions: float
    minutes: float
