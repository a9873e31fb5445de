"""The test as it is held: trainees' pages and the instructor's, each sent what it may see and nothing else."""

from __future__ import annotations

import logging
import time
from collections.abc import Callable
from datetime import datetime

from scenes import catalogue
from scenes.bench import sharing
from scenes.bench.tally import OF_ONE_ADDRESS
from scenes.kept.lines import at
from scenes.kept.writer import Writer
from scenes.marked.papers import Brought, Papers
from scenes.marked.questions import Asked, kinds_asked, question_for
from scenes.marked.record import MOST_TRAINEES, Answered, Begun, Ended, Line, Opened, Readmitted, Record, Terms
from scenes.marked.sittings import Sitting, checked_name, sittings_of
from scenes.questions.mistakes import mistake_in
from visual.host import messages
from visual.host.access.doors import SecretWord, ThisMachine
from visual.host.encoding import request
from visual.host.endpoints import Endpoint
from visual.host.viewers import Viewer

log = logging.getLogger("thumbwise")

TRAINEE, INSTRUCTOR = "trainee", "instructor"
FAILED = "This question hit an internal error; tell your instructor."
TRY_AGAIN = 2.0  # s, after a line could not be written
NOTHING_ELSE: frozenset[str] = frozenset()  # that a trainee's page hears beside what is its own
DESK_FIRST = "sit/"
DESK = Endpoint({"": "trainee.html"}, TRAINEE, ThisMachine("/sit"), hears=NOTHING_ELSE)
ENDPOINT = Endpoint({"": "instructor.html"}, INSTRUCTOR, beside=(DESK,))
THIS_MACHINE = None  # the visitor at the desk


def shared_endpoint(terms: Terms) -> Endpoint:
    """Where trainees come in from the network; the same after a restart."""
    door = SecretWord(terms.word, key=bytes.fromhex(terms.key))
    return Endpoint({"": "trainee.html"}, TRAINEE, door, sharing.FOLLOWERS, OF_ONE_ADDRESS, hears=NOTHING_ELSE)


# Long, for what a trainee may do and what each page is told of it are decided in one place.
class Room:
    """Holds a test. `writer` saves what happens; nothing counts for a page before it is saved. `clock`: s since 1970."""

    def __init__(self, papers: Papers, record: Record, terms: Terms, writer: Writer, clock: Callable[[], float] = time.time):
        self.host, self.record, self.terms, self.writer = papers.host, record, terms, writer
        self._clock = clock
        self._papers = papers
        self._sittings: tuple[tuple[int, int], dict[int, Sitting]] = ((-1, -1), {})
        self._kept: tuple[int, dict[int, Sitting]] = (-1, {})
        self._names_from: dict[str | None, int] = {}  # by network address, how many have begun there
        self._refused: dict[Viewer, tuple[str, int]] = {}  # why a page's last request was, and its number
        self._told: dict[Viewer, tuple] = {}
        self._brought: dict[Viewer, Brought] = {}  # what a page has been sent of pictures
        self._tried = clock()
        self._shown = -1, -1  # with how many lines, and when, the instructor's page was last told
        self.host.on_message = self.receive
        self.host.publish(share={"addresses": [], "code": None})
        for scene, _ in kinds_asked(terms):
            papers.build(scene)

    def share(self) -> str:
        """Let trainees in from the network, at the same address as before if there was one; the sentence that says where."""
        before = [line.port for line in self.record.all if isinstance(line, Opened) and line.port is not None]
        port, addresses = sharing.opened(self.host, shared_endpoint(self.terms), before[-1] if before else sharing.USUAL_PORT)
        self.opened(port)
        if not addresses:
            return "No network was found, so nobody can come in from another device; connect this machine and start again."
        return f"Trainees on your network come in at {' or '.join(addresses)} : each sees only a test of their own."

    def opened(self, port: int | None = None) -> None:
        """Note that the program has been started: the time that it was away is given back."""
        self._keep(Opened(at(self._clock()), port))

    # what trainees ask for

    def receive(self, message: dict, viewer: Viewer) -> None:
        """Carry out a trainee's message, or tell that page alone why not."""
        refused = ""
        try:
            wanted = request(message)
            if viewer.role == INSTRUCTOR:
                if isinstance(wanted, messages.Readmit):
                    self.readmit(wanted.name)
                elif isinstance(wanted, messages.EndSitting):
                    self.end(wanted.name)
            elif isinstance(wanted, messages.Begin):
                self.begin(viewer, wanted.name)
            elif isinstance(wanted, messages.Answer):
                self.answer(viewer, wanted.choice, wanted.place)
            elif isinstance(wanted, messages.CloseQuestion):
                self.hand_in(viewer)
            elif not isinstance(wanted, messages.Open):  # every page says where it was opened
                raise ValueError("In a test one can only begin, answer and hand in.")
        except ValueError as wrong:
            refused = str(wrong)
        except Exception:
            log.exception("what a trainee sent could not be carried out: %r", message)
            refused = FAILED
        self._refused[viewer] = refused, self._refused.get(viewer, ("", 0))[1] + bool(refused)

    def begin(self, viewer: Viewer, typed: str) -> None:
        """Begin under a name. `ValueError`, in a sentence, if that cannot be."""
        sittings = self._all()
        now = self._clock()
        mine = self._of(viewer, sittings)
        if mine is not None and not (viewer.visitor is THIS_MACHINE and mine.over(self.terms.questions, now)):
            raise ValueError("You have begun already.")
        if len(sittings) >= MOST_TRAINEES:
            raise ValueError(f"{MOST_TRAINEES} trainees have begun, the most that a test takes.")
        if viewer.visitor is not THIS_MACHINE and self._names_from.get(viewer.address, 0) >= OF_ONE_ADDRESS:
            raise ValueError(f"{OF_ONE_ADDRESS} have begun from your network address, the most it may give.")
        name = checked_name(typed, (sitting.name for sitting in sittings.values() if not sitting.readmitted))
        again = [sitting.trainee for sitting in sittings.values() if sitting.name.casefold() == name.casefold()]
        self._names_from[viewer.address] = self._names_from.get(viewer.address, 0) + 1
        self._keep(Begun(at(now), again[0] if again else max(sittings, default=0) + 1, name, viewer.visitor))

    def answer(self, viewer: Viewer, given: str, place: float | None) -> None:
        """Take an answer for good. What comes again, as after a restart, changes nothing."""
        mine = self._of(viewer, self._all())
        if mine is None:
            raise ValueError("Type your name first.")
        if place in mine.answers:
            return
        if mine.over(self.terms.questions, self._clock()):
            raise ValueError("Your time is over.")
        if place is None or place != mine.place(self.terms.questions):
            raise ValueError("That is not the question that you have.")
        asked = question_for(self.terms, mine.trainee, int(place))
        paper = self._papers.paper(asked)
        answered = paper.answered(given)
        question, taken = answered.posed, answered.first_given or given
        words = question.text, question.words_of(taken), question.words_of(question.answer)
        marked = answered.right == 1, mistake_in(question, taken)
        self._keep(Answered(at(self._clock()), mine.trainee, int(place), *asked, *words, *marked, paper.set_up))

    def hand_in(self, viewer: Viewer) -> None:
        """End it before the last question."""
        mine, now = self._of(viewer, self._all()), self._clock()
        if mine is None:
            raise ValueError("Type your name first.")
        if not mine.over(self.terms.questions, now):
            self._keep(Ended(at(now), mine.trainee))

    def readmit(self, name: str) -> None:
        """Let a trainee go on in another browser, as when a telephone has died."""
        for sitting in self._all().values():
            if sitting.name == name and not sitting.readmitted and not sitting.over(self.terms.questions, self._clock()):
                self._keep(Readmitted(at(self._clock()), sitting.trainee))

    def end(self, name: str | None) -> None:
        """Hand in for a trainee who has gone; without a name, for everybody who has not ended."""
        now = self._clock()
        for sitting in self._all().values():
            if name in (None, sitting.name) and not sitting.over(self.terms.questions, now):
                self._keep(Ended(at(now), sitting.trainee))

    def _keep(self, line: Line) -> None:
        self.record.add(line)
        self.writer.write()

    def _all(self) -> dict[int, Sitting]:
        """Every sitting, with what is not yet saved."""
        entries, key = self.record.all, self.record.counts
        if self._sittings[0] != key:
            self._sittings = key, sittings_of(self.terms, entries)
        return self._sittings[1]

    def _saved(self) -> dict[int, Sitting]:
        """Every sitting as far as it is saved."""
        count = self.record.counts[0]
        if self._kept[0] != count:
            self._kept = count, sittings_of(self.terms, self.record.entries)
        return self._kept[1]

    def _of(self, viewer: Viewer, sittings: dict[int, Sitting]) -> Sitting | None:
        """The sitting of whoever has that page; on this machine, where one comes after the other, the last."""
        mine = [sitting for sitting in sittings.values() if sitting.visitor == viewer.visitor]
        return mine[-1] if mine else None

    # what pages are told

    def frame(self, seconds: float) -> None:
        """Tell each page what is new for it, as soon as it has shown what it was told before."""
        if self.record.counts[1] and self._clock() - self._tried > TRY_AGAIN:
            self._tried = self._clock()
            self.writer.write()
        for viewer in [viewer for viewer in self.host.viewers if viewer.role == TRAINEE and viewer.served]:
            self._tell(viewer)
        shown = self.record.counts[0], int(self._clock())
        if shown != self._shown:
            self._shown = shown
            self.host.publish_to(INSTRUCTOR, test=self._seen())
        self._say_what_the_record_tells()
        for kept in (self._refused, self._told, self._brought):
            for gone in kept.keys() - self.host.viewers:
                del kept[gone]

    def _tell(self, viewer: Viewer) -> None:
        mine, now = self._of(viewer, self._saved()), self._clock()
        place = None if mine is None else mine.place(self.terms.questions)
        over = mine is not None and mine.over(self.terms.questions, now)
        key = (None if mine is None else mine.trainee, place, over, self._refused.get(viewer))
        if self._told.get(viewer) == key:
            return
        before, self._told[viewer] = self._told.get(viewer, ()), key
        refused = self._refused.get(viewer, ("", 0))[0]
        if mine is not None and place is not None and not over and before[:3] != key[:3]:
            try:
                self._put(viewer, question_for(self.terms, mine.trainee, place))
            except Exception:
                log.exception("question %d of trainee %d could not be put", place, mine.trainee)
                refused = FAILED
        viewer.publish(
            sitting={
                "name": None if mine is None else mine.name,
                "place": place or self.terms.questions,
                "count": self.terms.questions,
                "minutes": self.terms.minutes,
                "seconds": None if mine is None or mine.ends is None or over else max(0.0, mine.ends - now),
                "ended": over,
                "another": mine is None or (over and viewer.visitor is THIS_MACHINE),
                "refused": refused,
            }
        )

    def _put(self, viewer: Viewer, asked: Asked) -> None:
        """Send a question to one page."""
        viewer.publish(**self._papers.published(self._papers.paper(asked), self._brought.setdefault(viewer, Brought())))

    def _seen(self) -> messages.MarkedTest:
        """Who has begun and ended, for the instructor."""
        terms, now = self.terms, self._clock()
        here = {viewer.visitor for viewer in self.host.viewers if viewer.role == TRAINEE}
        return {
            "topics": [catalogue.scene_class(name).title for name in terms.scenes],
            "questions": terms.questions,
            "minutes": terms.minutes,
            "file": str(self.record.path),
            "trainees": [
                {
                    "name": sitting.name,
                    "begun": _clock_time(sitting.begun),
                    "ended": _clock_time(sitting.ended(terms.questions, now)),
                    "readmitted": sitting.readmitted,
                    "here": sitting.visitor in here,
                }
                for sitting in self._saved().values()
            ],
        }

    def _say_what_the_record_tells(self) -> None:
        """What the record has to tell, such as that it cannot be written, is said on the instructor's page and in the log."""
        for sentence in self.record.sentences():
            log.warning("%s", sentence)
            self.host.publish_to(INSTRUCTOR, notice={"text": sentence, "serial": int(self._clock())})


def _clock_time(moment: float | None) -> str:
    return "" if moment is None else datetime.fromtimestamp(moment).strftime("%H:%M")
