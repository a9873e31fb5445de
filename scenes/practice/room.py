"""Practice for many: each who comes in at the shared address is put questions of their own, about set-ups at rest.

Nothing is kept of those who come in from the network; what was answered on this machine is, as in practice without them.
"""

from __future__ import annotations

import logging
import random
from collections import OrderedDict
from collections.abc import Sequence
from dataclasses import dataclass, field
from datetime import UTC, datetime

from scenes.bench import sharing
from scenes.bench.tally import OF_ONE_ADDRESS
from scenes.bench.workings import WorkingSheet
from scenes.kept.writer import Writer
from scenes.marked.papers import Brought, Paper, Papers
from scenes.marked.questions import Asked
from scenes.practice.practice import Practice
from scenes.practice.practice_bench import PROGRESS_PAGE
from scenes.practice.progress import described, progress
from scenes.practice.results import Results
from scenes.practice.student import Student
from scenes.scene.scene import Scene
from visual.host import messages
from visual.host.access.doors import SecretWord, ThisMachine
from visual.host.encoding import request
from visual.host.endpoints import Endpoint
from visual.host.viewers import Viewer

log = logging.getLogger("thumbwise")

STUDENT = "student"
FAILED = "This question hit an internal error; go on with the next."
MOST_SEATS = 300  # students remembered at once
PAGES = {"": "practice.html"}
ENDPOINT = Endpoint(PAGES, STUDENT, ThisMachine(), hears=frozenset({"progress", "share"}), beside=(PROGRESS_PAGE,))
THIS_MACHINE = None  # the visitor at it


@dataclass
class Seat(Student):
    """One who practises here: which question was put last. `changes` counts up."""

    asked: Asked | None = None
    sheet: WorkingSheet = field(default_factory=WorkingSheet)
    refused: str = ""
    changes: int = 0


@dataclass
class Shown:
    """What a page has been sent: of pictures, and the newest of all else."""

    brought: Brought = field(default_factory=Brought)
    paper: Paper | None = None
    key: tuple = ()


# Long, for what one page asks for, and what every page is told then, go through one place.
class PracticeRoom:
    """Holds practice for this machine, whose answers `writer` saves, and for all who come in from the network."""

    def __init__(self, papers: Papers, practice: Practice, writer: Writer):
        self.host, self.writer = papers.host, writer
        self._papers = papers
        self._scenes: Sequence[str] = practice.scenes
        self._tried: dict[str, Scene] = {}  # scenes on which questions are tried out, for all
        self._seats: OrderedDict[str | None, Seat] = OrderedDict({THIS_MACHINE: Seat(practice)})
        self._shown: dict[Viewer, Shown] = {}
        self.host.on_message = self.receive
        self.host.publish(share={"addresses": [], "code": None})
        self._publish_progress()

    def share(self) -> str:
        """Let others in from the network; the sentence that says where."""
        door = SecretWord()
        nothing: frozenset[str] = frozenset()
        endpoint = Endpoint(PAGES, STUDENT, door, sharing.FOLLOWERS, OF_ONE_ADDRESS, hears=nothing)
        addresses = sharing.opened(self.host, endpoint)[1]
        if not addresses:
            return "No network was found, so nobody can come in from another device; connect this machine and start again."
        where = " or ".join(addresses)
        return f"Others on your network practise at {where} : each has questions of their own, and no answer of theirs is kept."

    def _publish_progress(self) -> None:
        practice = self._seats[THIS_MACHINE].practice
        self.host.publish(progress=described(progress(practice.results.all, datetime.now(UTC).date())))

    def _seat(self, viewer: Viewer) -> Seat:
        """The seat of whoever has that page; the one who was away longest makes room."""
        if viewer.visitor not in self._seats:
            while len(self._seats) > MOST_SEATS:
                self._seats.popitem(last=False)
            self._seats[viewer.visitor] = Seat(Practice(Results(None), self._scenes, random.Random(), built=self._tried))
        if viewer.visitor is not THIS_MACHINE:
            self._seats.move_to_end(viewer.visitor)
            self._seats.move_to_end(THIS_MACHINE)
        return self._seats[viewer.visitor]

    # what students ask for

    def receive(self, message: dict, viewer: Viewer) -> None:
        """Carry out what a page asks for, or tell that page alone why not."""
        seat = self._seat(viewer)
        seat.refused = ""
        try:
            self._carry_out(seat, request(message))
        except ValueError as wrong:
            seat.refused = str(wrong)
        except Exception:
            log.exception("what one who practises sent could not be carried out: %r", message)
            seat.refused = FAILED
        seat.changes += 1
        if seat.practice.results.counts[1] and seat is self._seats[THIS_MACHINE]:
            self.writer.write()
            self._publish_progress()

    def _carry_out(self, seat: Seat, wanted: messages.Request) -> None:
        if isinstance(wanted, messages.Ask):
            self.ask(seat)
        elif isinstance(wanted, messages.Answer):
            self.answer(seat, wanted.choice)
        elif isinstance(wanted, messages.Press):
            self.answer(seat, wanted.name)
        elif isinstance(wanted, messages.Draw):
            self.answer(seat, seat.prediction.posed.drawn_as((wanted.x, wanted.y, wanted.z), (wanted.to_x, wanted.to_y, wanted.to_z)))
        elif isinstance(wanted, messages.Reveal):
            self.reveal(seat)
        elif isinstance(wanted, messages.BeginMock):
            seat.begin_mock(wanted.questions, wanted.minutes)
            self.ask(seat)
        elif isinstance(wanted, messages.CloseQuestion):
            seat.end_mock()
        elif isinstance(wanted, messages.Work):
            seat.sheet.choose(wanted.topic, wanted.inputs)
        elif not isinstance(wanted, messages.Open | messages.Run):  # every page says where it was opened, some to hold what moves
            raise ValueError("Here one can answer, go on, begin a mock test and work a question through.")

    def ask(self, seat: Seat) -> None:
        """Put the next question."""
        wanted = seat.wanted()
        before, seat.asked = seat.prediction, Asked(wanted.scene, wanted.kind, wanted.seed)
        seat.prediction = self._papers.paper(seat.asked).put()
        seat.prediction.right, seat.prediction.asked = before.right, before.asked
        seat.prediction.note = wanted.note
        seat.sheet.choose("", "")

    def answer(self, seat: Seat, choice: str) -> None:
        """Take an answer: the mistake is named and shown before a second one; in a mock test the next question follows."""
        if seat.asked is None:
            raise ValueError("No question is waiting for an answer.")
        scene, _ = self._papers.set_up(seat.asked)
        seat.answer(scene, choice)
        if seat.sits:
            self.ask(seat)
        elif seat.prediction.given is not None:
            seat.prediction.uncover(scene)

    def reveal(self, seat: Seat) -> None:
        """Show the answer, which counts as not known."""
        if seat.asked is None:
            raise ValueError("No question is waiting for an answer.")
        scene, _ = self._papers.set_up(seat.asked)
        seat.reveal(scene)
        seat.prediction.uncover(scene)

    # what pages are told

    def frame(self, seconds: float) -> None:
        """Tell each page what is new for it, as soon as it has shown what it was told before."""
        for seat in self._seats.values():
            if seat.mock and seat.mock.out_of_time:
                seat.end_mock()
                seat.changes += 1
        for viewer in [viewer for viewer in self.host.viewers if viewer.role == STUDENT and viewer.served]:
            self._tell(viewer)
        for gone in self._shown.keys() - self.host.viewers:
            del self._shown[gone]

    def _tell(self, viewer: Viewer) -> None:
        seat, shown = self._seat(viewer), self._shown.setdefault(viewer, Shown())
        if seat.asked is None:
            self.ask(seat)
        paper = self._paper(seat)
        working = seat.sheet.shown(paper, not seat.prediction.waiting, seat.prediction.works)
        key = id(seat), seat.changes, seat.mock and (seat.mock.over, int(seat.mock.left)), working["wrong"], len(working["lines"])
        if shown.key == key:
            return
        shown.key = key
        if paper is not shown.paper:
            shown.paper = paper
            viewer.publish(**self._papers.published(paper, shown.brought))
            viewer.publish(picks=list(paper.picks))
        question = seat.prediction.shown()
        viewer.publish(
            question=None if question is None else question | {"seed": None},
            working=working,
            mock=seat.mock.described() if seat.mock else None,
            notice={"text": seat.refused, "serial": seat.changes},
            says="The answer is hidden until the question is answered." if seat.prediction.waiting else "",
        )

    def _paper(self, seat: Seat) -> Paper:
        assert seat.asked is not None  # it was just asked
        prediction = seat.prediction
        return self._papers.paper(seat.asked, prediction.mistake, prediction.question is not None and not prediction.waiting)
