"""Ask, commit, reveal: a question is put, and the result stays hidden and the motion paused until an answer is given."""

from __future__ import annotations

import random
from collections.abc import Mapping
from typing import Any

from physics.arguments import quoted
from scenes.bench.what_may_be_read import readable
from scenes.bench.workings import WorksThrough, written_input
from scenes.questions.kinds import Drawn, as_it_stands, draw, kind_of
from scenes.questions.mistakes import explained, told_of
from scenes.scene.described import described_picks, described_spots
from scenes.scene.question import Question
from scenes.scene.scene import Reading, Scene
from visual.host import messages

LARGEST_SEED = 9999
TWO = 2  # choices: with one of them wrong the other is not tried, but known
TRY_AGAIN = "Try once more."


# Long, for what may be done with a question, from putting it to closing it, is in one place.
class Prediction:
    """The open question, the answer given, a note on it for the page, and the running score.

    tried: the wrong answer after which a second one may be given. mistake: the one behind it, by name, that the picture may show
    meanwhile; "" for none. drawn: the question's kind and true set-up, where it is of a kind
    other than the scene's own way round; meanwhile the scene shows one that gives nothing away.
    """

    def __init__(self, seeds: random.Random | None = None):
        self._seeds = seeds or random.Random()
        self.question: Question | None = None
        self.own: Question | None = None  # one that is put in place of the scene's
        self.seed: int | None = None
        self.drawn: Drawn | None = None
        self.given: str | None = None
        self.tried: str | None = None
        self.mistake = ""
        self.told = False  # the answer was shown without anyone giving one
        self.note = ""
        self.works: WorksThrough | None = None  # the calculation that works it through, once it is answered
        self._true_readings: list[Reading] | None = None  # of the set-up asked about, where the scene shows another
        self.right = 0
        self.asked = 0

    @property
    def waiting(self) -> bool:
        return self.question is not None and self.given is None

    @property
    def posed(self) -> Question:
        """The question that was asked, answered or not; `ValueError` when there is none."""
        if self.question is None:
            raise ValueError("No question is waiting for an answer.")
        return self.question

    @property
    def first_given(self) -> str | None:
        """The answer that counts: the first, whether or not there was a second try; `None` where it was shown instead."""
        return self.tried or (None if self.told else self.given)

    @property
    def kind(self) -> str | None:
        """The kind that was asked for by name, if one was."""
        return self.drawn.kind.name if self.drawn else None

    @property
    def covers(self) -> bool:
        """Whether the picture would give away what is asked for, and is covered."""
        return self.waiting and self.drawn is not None and None in self.drawn.kind.hides.values()

    def ask(self, scene: Scene, seed=None, kind: str | None = None, kept: Mapping[str, Any] | None = None) -> None:
        """Set up the scene from a random seed and put its question, or one of that kind with these settings `kept`."""
        number = self._seeds.randint(1, LARGEST_SEED) if seed is None else checked_seed(seed)
        if kind is None:
            scene.set_all(setup_of(scene, number))
            self.ask_present(scene)
        else:
            drawn = draw(scene, kind_of(scene, kind), number, kept or {})
            self._begin()
            self._put(scene, drawn)
        self.seed = number

    def ask_about(self, scene: Scene, kind: str, chosen: Mapping[str, Any], which: int = 1) -> None:
        """Put a question of that kind about just what is set up, of which some settings were `chosen`; `which` of them, by a number."""
        drawn = as_it_stands(scene, kind_of(scene, kind), scene.settings, chosen, str(checked_seed(which)))
        self._begin()
        self._put(scene, drawn)

    def ask_present(self, scene: Scene, own: Question | None = None) -> None:
        """Restart the present set-up, so that nothing has moved yet, and put the question about it, or one's `own`."""
        scene.restart()
        self._begin()
        self.own = own
        self.question = own or scene.question()

    def _begin(self) -> None:
        self.seed = self.given = self.tried = self.drawn = self.own = None
        self.told = False
        self.note = self.mistake = ""
        self.works = None

    def _put(self, scene: Scene, drawn: Drawn) -> None:
        """Put a question of a kind, and show of its set-up what may be shown."""
        if drawn.view is not None:
            scene.look(drawn.view)
        question = drawn.question(scene)
        self._true_readings = None
        if drawn.kind.hides:
            scene.set_all(drawn.settings)
            scene.restart()
            self._true_readings = scene.readings(reveals_answer=False)
        scene.set_all(drawn.settings | _hiding(scene, drawn.kind.hides))
        scene.restart()
        self.drawn, self.question = drawn, question

    def reset(self, scene: Scene) -> None:
        """The set-up has changed while a question waits: put the question about the new set-up, from its start."""
        if not self.waiting:
            self.works = None  # the scene has other figures now
            return
        scene.restart()
        before, self.seed = self.posed, None
        self._put_anew(scene)
        if self.posed.answer != before.answer:  # another question: what was tried does not hold for it
            self.tried, self.note, self.mistake = None, "", ""

    def _put_anew(self, scene: Scene) -> None:
        if self.drawn is not None:
            hidden = {name: self.drawn.settings[name] for name in self.drawn.kind.hides}
            try:
                self._put(scene, as_it_stands(scene, self.drawn.kind, scene.settings | hidden))
                return
            except ValueError:  # a question of that kind cannot be put to it
                self.drawn = None
        self.question = self.own or scene.question()

    def reword(self, scene: Scene) -> None:
        """The view has changed: a question that waits names its directions as seen from there."""
        if self.waiting:
            self.question = self.drawn.question(scene, scene.eye) if self.drawn else self.own or scene.question()

    def answer(self, choice: str, tries: int = 1) -> bool:
        """Commit to a choice; returns whether it is right. After a wrong one that leaves a second try, because of two `tries` or of the
        question itself, it goes on waiting; the score counts the first. `ValueError` if no question waits or that is not a choice."""
        if not self.waiting:
            raise ValueError("No question is waiting for an answer.")
        given = self.posed.taken(choice)
        right = self.posed.is_right(given)
        if self.tried is None:
            self.asked += 1
            self.right += right
            if not right and (self.posed.again or tries > 1 and len(self.posed.choices) != TWO):
                self.tried = given
                self.name_mistake()
                return False
        self.given, self.note, self.mistake = given, "", ""
        return right

    def name_mistake(self, known: str | None = None, before: str = "", scene: Scene | None = None) -> None:
        """Note what is said of the wrong answer before the second try: the mistakes that give it, what answers `before` say of them, a
        sentence, and how the hand in the picture of that `scene` shows the one that is `known` from these, or one of them. It shows none
        where something is hidden of what was asked about: that it would give away."""
        tried = self.tried or ""
        all_names = self.posed.may_be(tried)
        names = (known,) if known in all_names else all_names
        hides = self.drawn and self.drawn.kind.hides
        hands = {name: scene.mistaken_hand(name) for name in names} if scene and not hides else {}
        self.mistake = next(filter(hands.get, hands), "")  # of several one is shown: its hand gives the same answer as theirs
        said = [f"Wrong: {self.posed.words_of(tried)}.", told_of(all_names), before, dict(self.posed.against).get(tried)]
        if self.mistake:
            said.append(f"The grey hand shows {'one of them' if len(names) > 1 else 'it'}: {hands[self.mistake]}.")
        self.note = " ".join(filter(None, (*said, self.posed.again or TRY_AGAIN)))

    def reveal(self) -> None:
        """Show the answer without counting anything. `ValueError` if no question waits."""
        if not self.waiting:
            raise ValueError("No question is waiting for an answer.")
        self.given, self.note, self.mistake = self.posed.answer, "", ""
        self.told = True

    def uncover(self, scene: Scene) -> None:
        """Show the set-up that the question was about, from its start, or as it runs where that was asked of."""
        scene.set_all((self.drawn.settings if self.drawn else {}) | dict(self.posed.shows))
        scene.revealed()
        if self.drawn and self.drawn.kind.settled:
            scene.settle()
        if self.drawn and self.drawn.kind.works and self.posed.figure:
            inputs = {name: written_input(value) for name, value in self.drawn.inputs(scene).items()}
            self.works = WorksThrough(self.drawn.kind.works, inputs, self.posed.figure)

    def enough(self) -> None:
        self.question = None
        self._begin()

    def picks(self, scene: Scene, reveals_answer: bool) -> list[messages.Pick]:
        """What may be pressed: for a question that is answered so, each of its answers by itself."""
        found = described_picks(scene, reveals_answer)
        if not (self.waiting and self.posed.pressed):
            return found
        if self.posed.spots:
            return described_spots(self.posed)
        answers = {value for value, _ in self.posed.choices}
        return [pick | {"alone": pick["alone"] or pick["name"] in answers} for pick in found]

    def readings(self, scene: Scene, reveals_answer: bool, told_alone: bool = True) -> list[Reading]:
        """The figures, as far as a question that waits lets them be read (`readable`)."""
        found = scene.readings(reveals_answer)
        return readable(found, self.posed, self._true_readings, told_alone) if self.waiting and self.drawn else found

    def shown(self) -> messages.Question | None:
        """The question as the page shows it, without the answer until one is given."""
        if self.question is None:
            return None
        answered, arrow = self.given is not None, self.question.arrow
        return {
            "text": self.question.text,
            "choices": [{"value": value, "words": said} for value, said in self.posed.choices],
            "answered": self.question.answered,
            "arrow": {"letter": arrow.letter, "at": arrow.at} if arrow and not answered and not self.covers else None,
            "kind": self.question.kind,
            "covers": self.covers,
            "seed": self.seed,
            "tried": self.tried,
            "given": self.given,
            "right": self.posed.is_right(self.given) if self.given is not None and not self.told else None,
            "answer": self.question.words_of(self.question.answer) if answered else None,
            "reason": explained(self.question, self.tried if self.told else self.given) if answered else None,
            "works": self.works.topic if self.works else None,
            "note": self.note,
            "score": {"right": self.right, "asked": self.asked},
        }


def _hiding(scene: Scene, hides: Mapping[str, Any]) -> dict:
    """Values of the hidden controls that give nothing away; where there is none, the one that every scene begins with."""
    return {name: scene.by_name[name].default if value is None else value for name, value in hides.items()}


def checked_seed(seed) -> int:
    """`seed` as a whole number; `ValueError` says which are allowed."""
    text = seed if isinstance(seed, str) else quoted(seed)
    if not (text.isdecimal() and len(text) < 10 and 1 <= int(text) <= LARGEST_SEED):
        raise ValueError(f"A question's number is from 1 to {LARGEST_SEED}, not {quoted(text)}.")
    return int(text)


def setup_of(scene: Scene, seed: int) -> dict:
    """The settings that belong to a seed, whatever the present ones."""
    return scene.defaults | scene.random_setup(random.Random(f"{scene.name} {seed}"))
