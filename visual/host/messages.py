"""Messages on the socket, both ways: their names and the types of their fields.

`page/common/messages.js` says the same for the page; `tests/visual/host/test_messages.py` holds the two together.

Every message is one JSON object. A page's is a `Request`, flat: its name under "do" beside its fields. In the bench's, each key of
`Published` *replaces* its earlier value, so a page that joins late needs only the newest value of every key (`stream` and `chart`
accumulate).

A page's role is that of its endpoint (`endpoints.Endpoint`, `viewer.role`). "bench" may send every request, and so may "speaker", a
lesson's second page. "still" is drawn once and posts its picture. "visitor" uses an exhibit; the exhibit says what it may send, and
tells "status" how it goes. "class" follows on the network, may send `Answer`, and alone is sent `vote`. In a marked test "trainee" is a
trainee's page, which may send `Begin` and `Answer` and is sent what is its own alone, and "instructor" the page of who holds it.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any, ClassVar, NotRequired, TypeAlias, TypedDict

Scalar: TypeAlias = str | float | bool | None
Vector: TypeAlias = Sequence[float]

# from a page

REQUESTS: dict[str, type[Request]] = {}


@dataclass(frozen=True)
class Request:
    """What a page asks for. A `Scalar` is checked by whoever knows what it may be, such as the control that it is for."""

    do: ClassVar[str]

    def __init_subclass__(cls, do: str) -> None:
        cls.do = do
        REQUESTS[do] = cls


class Ready(Request, do="ready"):
    """The last message is on screen: send the next."""


class Alive(Request, do="alive"):
    """A ping, answered once all earlier messages are handled."""


@dataclass(frozen=True)
class Open(Request, do="open"):
    """The page was opened at this address. `run` is the run of the program that it followed there before, so that it must not
    bring that address back."""

    address: str
    run: str | None = None


@dataclass(frozen=True)
class ShowScene(Request, do="scene"):
    name: str


class Next(Request, do="next"):
    """The next scene, or step of a lesson."""


class Previous(Request, do="previous"):
    """The previous scene, or step of a lesson."""


@dataclass(frozen=True)
class SetControl(Request, do="set"):
    name: str
    value: Scalar


@dataclass(frozen=True)
class Reverse(Request, do="reverse"):
    """Reverse what carries that role: "current" or "field"."""

    what: str


@dataclass(frozen=True)
class Join(Request, do="join"):
    """Join two of the scene's `picks`, or take apart what joins them."""

    first: str
    second: str


@dataclass(frozen=True)
class Press(Request, do="press"):
    """Press one of the scene's `picks` that stands alone."""

    name: str


@dataclass(frozen=True)
class Run(Request, do="run"):
    """Run, or pause."""

    on: bool


class OneStep(Request, do="step"):
    """Pause, and go one step further."""


class Restart(Request, do="restart"):
    """Begin again with the present settings."""


@dataclass(frozen=True)
class ShowAnswers(Request, do="answers"):
    """Show or hide the arrows that give the answer away."""

    shown: bool


@dataclass(frozen=True)
class Ask(Request, do="ask"):
    """Put a question: at random, the one of that seed, or the one about the set-up that is there; `kind`: one of the scene's kinds."""

    seed: Scalar = None
    present: bool = False
    kind: str = ""


@dataclass(frozen=True)
class Answer(Request, do="answer"):
    """`place`: in a marked test, which question it answers, counted from 1."""

    choice: str
    place: float | None = None


class Reveal(Request, do="reveal"):
    """Show the answer though nobody gave one."""


class CloseQuestion(Request, do="enough"):
    """Put the question away."""


@dataclass(frozen=True)
class Look(Request, do="view"):
    """Change to the ready view of that name."""

    name: str


@dataclass(frozen=True)
class ShowTally(Request, do="tally"):
    """Show how the class answers while the question still waits; `large`: over the picture."""

    large: bool = False


class VoteAgain(Request, do="again"):
    """Ask the class once more, and show both counts in the end."""


@dataclass(frozen=True)
class Work(Request, do="work"):
    """Open a calculation, or none; `inputs` are those entered by hand, as in an address: "speed=1440&poles=4"."""

    topic: str
    inputs: str = ""


class StartClock(Request, do="clock"):
    """In a lesson: it begins now."""


@dataclass(frozen=True)
class Prepare(Request, do="prepare"):
    """In a lesson from a file of one's own: open it for changes, or close it."""

    on: bool


@dataclass(frozen=True)
class AddStep(Request, do="add"):
    """While it is open: make a step of what stands on the bench, or a page of one's own."""

    page: bool = False


@dataclass(frozen=True)
class ArrangeStep(Request, do="arrange"):
    """The step with that `number`: "up", "down", "copy", "remove", "set-up" (give it the one that stands on the bench) or "show"."""

    number: float
    how: str


@dataclass(frozen=True)
class ChangeStep(Request, do="change"):
    """Change one thing that a step says."""

    number: float
    name: str
    value: Scalar


@dataclass(frozen=True)
class AskOwn(Request, do="own"):
    """Give a step a question of one's own: each choice on a line, the `right` one counted from 1."""

    number: float
    text: str
    choices: str
    right: float
    reason: str


@dataclass(frozen=True)
class NameLesson(Request, do="title"):
    title: str


@dataclass(frozen=True)
class Undo(Request, do="undo"):
    """Undo the last change to the lesson, or make an undone one `again`."""

    again: bool = False


@dataclass(frozen=True)
class Touch(Request, do="touch"):
    """On a stand: somebody is there; `again`: still with the same touch."""

    again: bool = False


@dataclass(frozen=True)
class Try(Request, do="try"):
    """On a stand: do what the button of that number at this stop says, counted from 0."""

    number: float


@dataclass(frozen=True)
class Turn(Request, do="turn"):
    """On a stand: a finger turns the machine, by so many revolutions a second in the picture, clockwise."""

    speed: float


@dataclass(frozen=True)
class Speak(Request, do="speak"):
    """On a stand: go on in the language of that code."""

    language: str


@dataclass(frozen=True)
class Begin(Request, do="begin"):
    """In a marked test: begin it under this name."""

    name: str


@dataclass(frozen=True)
class Readmit(Request, do="readmit"):
    """In a marked test, from the instructor: whoever types this name next goes on with that test."""

    name: str


@dataclass(frozen=True)
class BeginMock(Request, do="mock"):
    """In practice: begin a mock test of so many questions and minutes."""

    questions: float
    minutes: float


# from the bench


class SceneTitle(TypedDict):
    name: str
    title: str


class ChoiceWords(TypedDict):
    """One of several: its value, and how it is called."""

    value: str
    words: str


class Control(TypedDict):
    """A control of the scene. `kind` is "number", "choice" or "switch"; `role` is "current", "field" or "": what a reversing key
    takes. With `only_with` [name, value] it is shown only while that other control has that value; `other` stands for any value that is
    none of its choices."""

    name: str
    words: str
    unit: str
    kind: str
    role: str
    default: Scalar
    only_with: list[Scalar] | None
    low: NotRequired[float]
    high: NotRequired[float]
    step: NotRequired[float]
    choices: NotRequired[list[ChoiceWords]]
    other: NotRequired[str]


class Direction(TypedDict):
    words: str
    axis: Vector


class ReadyView(TypedDict):
    name: str
    words: str
    forward: Vector
    up: Vector
    directions: list[Direction]


class ArrowKey(TypedDict):
    letter: str
    words: str
    colour: str
    unit: str


class Pick(TypedDict):
    """A thing in the picture that may be pressed, `alone` or to be joined to the next: its words, and where it stands: on the bench, or
    counted from the drawn object with the number `on`, or nowhere."""

    name: str
    words: str
    at: Vector | None
    alone: bool
    on: int | None


class Series(TypedDict):
    name: str
    colour: str


class ChartBelow(TypedDict):
    """A second chart under the first, against the same time."""

    words: str
    unit: str
    series: list[Series]


class ChartAxes(TypedDict):
    """A chart against time, and the seconds in sight."""

    words: str
    unit: str
    seconds: float
    series: list[Series]
    below: ChartBelow | None


class Scene(TypedDict):
    """What does not change while a scene runs."""

    name: str
    title: str
    principle: str
    caution: str
    leaves_out: list[str]
    narration: str
    controls: list[Control]
    views: list[ReadyView]
    arrows: list[ArrowKey]
    chart: ChartAxes | None


class Reading(TypedDict):
    """All text, ready to show; `first`: in sight, not folded away."""

    symbol: str
    words: str
    value: str
    unit: str
    formula: str
    first: bool


class WorkingTopic(TypedDict):
    """A calculation that may be opened; `here`: the scene gives its figures for it."""

    name: str
    words: str
    here: bool


class WorkingInput(TypedDict):
    """`choices`, if there are any, are all that it may be."""

    name: str
    words: str
    unit: str
    value: str
    choices: list[str]


class BoardLine(TypedDict):
    """As written on the board, each row ready to show or empty."""

    words: str
    symbols: str
    numbers: str
    result: str


class Working(TypedDict):
    """The calculation that is open, if `topic` names one. `entered`: whether an input was entered by hand; `wrong`: why there are
    no lines, in a sentence."""

    topic: str
    topics: list[WorkingTopic]
    title: str
    inputs: list[WorkingInput]
    entered: bool
    lines: list[BoardLine]
    remark: str
    wrong: str


class BenchState(TypedDict):
    """`held` says why it is paused although running, or is empty."""

    running: bool
    slowness: str
    answers_shown: bool
    held: str


class Score(TypedDict):
    right: int
    asked: int


class Works(TypedDict):
    """The calculation that works a question through, with its figures by input."""

    topic: str
    inputs: dict[str, str]


class Question(TypedDict):
    """`given`, `right`, `answer`, `reason` and `works` are null until it is answered; `right` also if the answer was shown without
    anyone giving one, `works` also where no calculation belongs to it. `answered`: by a "choice", by a figure that is "typed", or by
    what is "pressed" in the picture too. `covers`: the picture would give the answer away, and is covered. `tried`: a first answer that
    was wrong. `note` is a sentence or empty."""

    text: str
    choices: list[ChoiceWords]
    answered: str
    kind: str
    covers: bool
    seed: int | None
    tried: str | None
    given: str | None
    right: bool | None
    answer: str | None
    reason: str | None
    works: Works | None
    note: str
    score: Score


class Notice(TypedDict):
    """Something went wrong or is worth telling; `serial` counts up."""

    text: str
    serial: int


class View(TypedDict):
    """Where the eye is: unit vectors. `directions`: the words with their vectors; `subject`: boxes, their corners in metres, that
    shall fill the picture; `letters`: those that come first."""

    name: str
    forward: Vector
    up: Vector
    subject: Sequence[Sequence[Vector]]
    directions: Sequence[tuple[str, Vector]]
    letters: Sequence[str]


class Axis(TypedDict):
    """An axis of a plot; `ticks`: the values named along it, or none where any may be."""

    words: str
    unit: str
    ticks: list[float]


class Curve(TypedDict):
    """A curve of a plot: points with x and y; None for y where it is broken off."""

    name: str
    colour: str
    points: list[list[float | None]]


class Plot(TypedDict):
    x: Axis
    y: Axis
    lines: list[Curve]


class Mark(TypedDict):
    """Where on the plot something is now; without `y`, a vertical line at `x`."""

    name: str
    colour: str
    x: float
    y: float | None


class Tally(TypedDict):
    """The class's answers: how many follow, and how many have answered; `counts` by choice, while they are shown, and those `before` it
    was asked again. `vote` is 1, or 2 when it is asked again; `large`: to be shown over the picture. `round` counts votes."""

    round: int
    following: int
    answered: int
    counts: dict[str, int] | None
    before: dict[str, int] | None
    vote: int
    large: bool


class Vote(TypedDict):
    """To one follower: the choice that counts in the tally's round, if any; `refused` says why the last one does not, or is empty."""

    round: int
    choice: str | None
    refused: str


class TryButton(TypedDict):
    """What may be tried at a stop; `does`: "reverse", "change", "turn" or "ask"."""

    words: str
    does: str


class Exhibit(TypedDict):
    """On a stand. `serial`: another number for each stop shown; `place`: which it is of the `stops`, -1 while nobody is there;
    `spoken`: the language of the caption; `answers`: while a question waits; `left`: seconds until a visitor is taken to have gone,
    once they are few; `words`: on buttons and signs, in `language`, one of `languages` (by code)."""

    serial: int
    place: int
    stops: int
    title: str
    caption: str
    spoken: str
    tries: list[TryButton]
    answers: list[ChoiceWords]
    slow: bool
    left: int | None
    asleep: bool
    words: dict[str, str]
    language: str
    languages: list[ChoiceWords]


class Status(TypedDict):
    """For whoever looks after a stand: what is so, each with its words; and what is wrong, in sentences."""

    lines: list[tuple[str, str]]
    wrong: list[str]


class Code(TypedDict):
    """A code to scan: `size` squares each way with the quiet zone, and the outline of the dark ones as an SVG path."""

    size: int
    path: str


class Share(TypedDict):
    """Where others on the network may follow, and the first of these addresses as a code."""

    addresses: list[str]
    code: Code | None


class OwnPage(TypedDict):
    """A page of the instructor's own, shown in place of the picture. `picture` is an address or empty, `shows` says what is to be seen
    in it."""

    title: str
    text: str
    picture: str
    shows: str


class LessonStep(TypedDict):
    number: int
    count: int
    caption: str
    title: str
    page: OwnPage | None


class PreparedStep(TypedDict):
    """A step in the list; `number` stays its own wherever it is moved; `scene` is empty for a page of one's own."""

    number: int
    words: str
    scene: str
    asks: bool
    minutes: float


class PreparedQuestion(TypedDict):
    """A question of one's own, each choice on a line."""

    text: str
    choices: str
    right: int
    reason: str


class PreparedFields(TypedDict):
    """What the present step says. `asks` is "none", "scene", "number" or "own"; `picture` is an address or empty."""

    number: int
    page: bool
    caption: str
    notes: str
    minutes: float
    hold: bool
    go_on: bool
    answers: bool
    asks: str
    vote: bool
    own: PreparedQuestion | None
    title: str
    text: str
    picture: str
    shows: str


class Preparing(TypedDict):
    """For the instructor's page alone: the lesson in its file, while it is `open` for changes. `wrong`: why it is not in the file, or
    what is wrong there, in a sentence, or empty."""

    open: bool
    file: str
    title: str
    wrong: str
    steps: list[PreparedStep]
    here: PreparedFields | None
    can_undo: bool
    can_redo: bool


class NextStep(TypedDict):
    """`scene` is empty where it stays the same."""

    caption: str
    scene: str
    asks: bool


class RightAnswer(TypedDict):
    words: str
    reason: str


class Prompt(TypedDict):
    """For the speaker alone; `onward`: what going on does next, in words."""

    notes: str
    next: NextStep | None
    answer: RightAnswer | None
    onward: str


class Clock(TypedDict):
    """For the speaker alone, in seconds: since the lesson and since the step began, and what was planned for each, or 0."""

    lesson: int
    step: int
    lesson_planned: int
    step_planned: int


class Given(TypedDict):
    """One setting of a set-up that is asked about."""

    words: str
    value: str
    unit: str


class Sitting(TypedDict):
    """How far a trainee has come in a marked test: under which name, or none yet; which question is put, of how many; if there is a limit,
    the minutes for all of it and the seconds that are left; `another`: whether somebody may begin on that page now. `refused` says why
    the last request was, or is empty."""

    name: str | None
    place: int
    count: int
    minutes: float | None
    seconds: float | None
    ended: bool
    another: bool
    refused: str


class Missed(TypedDict):
    """A question that was answered wrongly, and both answers in words."""

    question: str
    given: str
    answer: str


class MockTest(TypedDict):
    """A mock test: which of so many questions, and the seconds that are left. How many were right, what was missed, and the mistakes
    that were made, are null and empty until it is over."""

    place: int
    count: int
    seconds: int
    over: bool
    right: int | None
    missed: list[Missed]
    mistakes: list[str]


class Trainee(TypedDict):
    """Times of day, or empty; `readmitted`: whoever types the name next goes on with it."""

    name: str
    begun: str
    ended: str
    readmitted: bool


class MarkedTest(TypedDict):
    """For the instructor: what the test is, the file in which it is kept, and who has begun and ended."""

    topics: list[str]
    questions: int
    minutes: float | None
    file: str
    trainees: list[Trainee]


class ChartPoints(TypedDict):
    """What is new: seconds, then each line's value; null is a gap."""

    clear: bool
    points: list[list[float | None]]


class Stream(TypedDict, total=False):
    """VPython's objects: commands and attributes (see bridge.py and page/picture/stream.js); `fresh` if this is all there is."""

    cmds: list[dict[str, Any]]
    attrs: list[str]
    fresh: bool


class ProgressTopic(TypedDict):
    """A scene in practice: its answers, and of its kinds of question how many are known and how many come back."""

    title: str
    right: int
    asked: int
    known: int
    coming_back: int
    kinds: int


class ProgressMistake(TypedDict):
    """A usual mistake, and how often it was made in each week."""

    name: str
    by_week: list[int]


class Progress(TypedDict):
    """A student's progress: weeks by their Mondays, the last one the present, and the score of each."""

    weeks: list[str]
    shares: list[Score]
    topics: list[ProgressTopic]
    mistakes: list[ProgressMistake]


class Published(TypedDict, total=False):
    """All that a page may be told, by key."""

    stream: Stream
    names: dict[str, int]  # of the objects that are drawn, for tests and tools
    run: str  # a word that is new each time the program starts
    lesson: list[SceneTitle]  # the scenes in order
    scene: Scene
    settings: dict[str, Scalar]  # by control
    readings: list[Reading]
    working: Working
    scales: dict[str, str]  # how long an arrow is, by its letter: "10 mm is 0.05 N"
    bench: BenchState
    question: Question | None
    says: str  # one sentence that describes the present state, for screen-reader users
    notice: Notice
    address: str  # the query of the page's URL
    view: View
    picks: list[Pick]  # what may be pressed in the picture
    to_press: str  # which of them next, in words
    plot: Plot | None
    marks: list[Mark]
    chart: ChartPoints
    tally: Tally
    vote: Vote
    share: Share
    exhibit: Exhibit
    logo: str  # on a stand: a picture as a data URL, or nothing
    status: Status
    step: LessonStep
    preparing: Preparing
    prompt: Prompt
    clock: Clock
    progress: Progress
    given: list[Given]
    sitting: Sitting
    test: MarkedTest
    mock: MockTest | None
    alive: bool  # the answer to `Alive`
