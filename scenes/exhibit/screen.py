"""What the stand's screen says: the caption, the buttons and the countdown, in the visitor's language."""

from __future__ import annotations

from collections.abc import Callable
from datetime import date, datetime

from scenes.bench.bench import Bench
from scenes.exhibit.attempts import Attempts
from scenes.exhibit.counts import Counts
from scenes.exhibit.driven import OnTheShaft, speed_of
from scenes.exhibit.subjects import fill
from scenes.exhibit.tour import ATTRACT, Tour, TourStop, Try, Words, said, speaks_english
from scenes.exhibit.use import Use
from scenes.scene.described import described_view
from scenes.scene.scene import Scene
from visual.host import messages


# Long, for all that the screen tells is worked out here, most of it in two lines.
class ExhibitScreen(Bench):
    """A bench that shows a stop of its tour; `now`: the machine's clock."""

    def __init__(self, host, tour: Tour, counts: Counts | None, now: Callable[[], datetime]):
        self.tour = tour
        self.counts = counts or Counts(None)
        self.now = now
        self.use = Use(tour.quiet)
        self.language = tour.first_language
        self.here = ATTRACT
        self.serial = 0  # of what is shown: another number for each stop
        self.stayed = 0.0  # s at this stop
        self.held = False  # whether a visitor is busy with this stop
        self.asleep = False
        self.began = now()
        self.failures = 0
        self.on_the_shaft = OnTheShaft()
        super().__init__(host, tour.attract.scene)
        host.publish(logo=tour.logo)

    @property
    def stop(self) -> TourStop:
        return self.tour.attract if self.here == ATTRACT else self.tour.stops[self.here]

    def _put_on_the_bench(self, scene: Scene) -> None:
        self.attempts = Attempts(scene)
        super()._put_on_the_bench(scene)

    def _today(self) -> date:
        return self.now().date()

    def tell(self, sentence: str) -> None:
        """An exhibit shows no notices."""

    def _view(self) -> messages.View:
        view, stop = described_view(self.scene), self.stop
        if stop.letters is not None:
            view["letters"] = stop.letters
        elif not speaks_english(self.language):  # some of a scene's own are words
            view["letters"] = ()
        fill(view, self.scene, stop, self.holds_a_hand)
        return view

    @property
    def holds_a_hand(self) -> bool:
        """Whether something is said of the hand of a rule: by the stop, or by the scene once its question is answered."""
        tried = self.attempts.last
        return self.stop.hand or (self.prediction.question is not None and not (tried and tried.answers))

    def _picks(self) -> list[messages.Pick]:
        """What stands alone, for to join two takes more than a visitor has time for; and only what something can be said of."""
        picks, parts = super()._picks(), self.stop.parts
        if self.here == ATTRACT or not all(pick["alone"] for pick in picks):
            return []
        if parts:
            return [pick | {"words": said(parts[pick["name"]], self.language)} for pick in picks if pick["name"] in parts]
        return picks if speaks_english(self.language) else []

    def show_state(self) -> None:
        super().show_state()
        self.on_the_shaft.follow(self.scene)

    def read_out(self) -> None:
        super().read_out()
        self.scene.hold_out_hands(self.holds_a_hand)
        self.host.publish(exhibit=self._shown())

    def _shown(self) -> messages.Exhibit:
        tour, language = self.tour, self.language
        return {
            "serial": self.serial,
            "place": self.here,
            "stops": len(tour.stops),
            "caption": self._caption(),
            "longest": max(self._all_said(), key=len),
            "speed": speed_of(self.stop, self.scene),
            "tries": [
                {"words": said(self._button(each), language), "does": each.does, "more": self._does_more(each)} for each in self.stop.tries
            ],
            "answers": self._answers() if self.prediction.waiting else [],
            "slow": self.scene.slowness != 1,
            "left": self.use.left,
            "asleep": self.asleep,
            "words": {name: said(each, language) for name, each in tour.words.items()},
            "language": language,
            "languages": [{"value": code, "words": name} for code, name in tour.languages.items()],
        }

    def _button(self, wanted: Try) -> Words:
        return wanted.again if wanted.again and self.attempts.begins_again(wanted) else wanted.button

    def _does_more(self, wanted: Try) -> bool:
        return self.attempts.begins_again(wanted) or self.attempts.goes_on(wanted)

    def _all_said(self) -> list[str]:
        """What the tour may say at this stop, of an answer too."""
        stop, language = self.stop, self.language
        words = [stop.caption, *stop.parts.values(), *(words for each in stop.tries for words in (each.after, each.stopped, each.question))]
        judged = [
            self._judged(verdict, said(answer, language), said(each.why, language))
            for each in stop.tries
            for answer in each.answers.values()
            for verdict in ("right", "wrong")
        ]
        return [*(said(each, language) for each in words), *judged]

    def _judged(self, verdict: str, right: str, why: str) -> str:
        """What is said of an answer: whether it is "right" or "wrong", which one is right, and why."""
        return f"{said(self.tour.words[verdict], self.language)} {right[0].upper()}{right[1:]}. {why}".strip()

    def _caption(self) -> str:
        """What is said, in the visitor's language: the scene itself speaks English."""
        if self.here == ATTRACT:
            return said(self.stop.caption, self.language) if self.stop.caption else ""
        if self.prediction.question is not None:
            return self._of_the_question()
        attempts, words = self.attempts, self.stop.caption
        if attempts.said:
            words = self._of_the_attempt() or ("" if speaks_english(self.language) else words)
        return said(words, self.language) if words else self.scene.says()

    def _of_the_attempt(self) -> Words:
        """What the tour says of what was tried last."""
        tried = self.attempts.last
        if tried is None:
            return self.stop.parts.get(self.attempts.part, "")
        return tried.stopped if tried.stopped and self.attempts.stands else tried.after

    def _of_the_question(self) -> str:
        """The question, or once it is answered what is right."""
        posed, tried, given = self.prediction.posed, self.attempts.last, self.prediction.given
        own = tried if tried is not None and tried.answers else None
        if given is None:
            return said(own.question, self.language) if own else self.prediction.note or posed.text
        right = next(each["words"] for each in self._answers() if each["value"] == posed.answer)
        why = said(own.why, self.language) if own else posed.reason_after(given)
        return self._judged("right" if given == posed.answer else "wrong", right, why)

    def _answers(self) -> list[messages.ChoiceWords]:
        """The choices that the tour has words for, in these; all of them, in the scene's, where it has none."""
        tried = self.attempts.last
        own = tried.answers if tried else {}
        return [
            {"value": value, "words": said(own[value], self.language) if own else words}
            for value, words in self.prediction.posed.choices
            if not own or value in own
        ]
