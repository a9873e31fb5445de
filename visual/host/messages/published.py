"""The keys under which the bench publishes, each with its type."""

from __future__ import annotations

from typing import TypedDict

from visual.host.messages.bench import BenchState, Given, Notice, Progress, Question, Reading, Working
from visual.host.messages.exhibit import Exhibit, Status
from visual.host.messages.lesson import Clock, LessonStep, Preparing, Prompt
from visual.host.messages.marked import MarkedTest, MockTest, Sitting
from visual.host.messages.picture import ChartPoints, Mark, Pick, Plot, Stream, View
from visual.host.messages.scene import Scene, SceneTitle
from visual.host.messages.sharing import Share, Tally, Vote
from visual.host.messages.values import Scalar


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
