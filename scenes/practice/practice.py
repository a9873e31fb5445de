"""Which question a student is asked next, from the answers given so far.

A kind of question answered wrongly comes back after 3 others, about another set-up; if right then, again after 8, and a last time
after 20. A wrong answer at any time starts this again, and so does one that was shown. It comes back with a set-up in which the same
mistake would show. Where several mistakes give the same wrong answer, the scene's question why is put as well, which tells them apart.
The spacing is counted in questions, not days, since practice comes in bursts; the count carries over from one day to the next. While
none is due a new question is drawn: the more of a scene's last 6 answers were wrong the more likely that scene is, and a scene never
asked about is likelier still; of its kinds likewise.

All of this follows from the kept answers, so nothing else is stored.
"""

from __future__ import annotations

import random
import re
from collections.abc import Sequence
from dataclasses import dataclass, replace

from scenes import catalogue
from scenes.bench.prediction import LARGEST_SEED, Prediction
from scenes.kept.lines import now
from scenes.practice.mock import MockTest
from scenes.practice.results import Answer, Results
from scenes.questions.kinds import Kind, kind_of
from scenes.questions.mistakes import Evidence, evidence, explained, parted, shown_by, steady, tells_apart, written
from scenes.scene import address
from scenes.scene.question import FORWARD, Question
from scenes.scene.scene import Scene

RESTS = (3, 8, 20)  # other questions in between, after a wrong answer and after each right one since
TO_TELL_APART = "why"  # the kind by which mistakes are told apart that give the same answer elsewhere
REMEMBERED = 30  # answers that are looked at for a steady mistake
RECENT = 6  # answers of a scene that decide how often new questions of it are drawn
NEVER_ASKED = 4  # weight of a scene without answers; one without recent mistakes has 1
FIRST_OF_ALL = 2  # times as likely among a scene's kinds: its own question, by which the others are understood
UNLIKE = 4  # recent answers whose wording a new question does not repeat
TRIES = 6  # to find one
ALIKE = 2  # figures that two questions of a test do not have in common
AGAIN = "You got this kind wrong earlier: try again."
SHOWN = "You had the answer to a question of this kind shown: try this one."
TELLS_APART = "A wrong answer you gave earlier could come from more than one mistake. This question shows which of them it was."
MADE_BEFORE = "You made this mistake before."
NUMBERS = range(1, LARGEST_SEED + 1)  # of questions that can be put; any other in the file is not ours


@dataclass(frozen=True)
class Next:
    """The question that comes next, and whether it comes back after a wrong answer; mistakes: those it should show then; apart: whether
    it is put because an answer to one of another kind may come of several of them; shown: whether the answer was shown, not given."""

    scene: str
    kind: str
    seed: int
    again: bool
    mistakes: tuple[str, ...] = ()
    apart: bool = False
    shown: bool = False

    @property
    def note(self) -> str:
        """Why it comes, a sentence; "" for a new one."""
        return TELLS_APART if self.apart else SHOWN if self.shown else AGAIN if self.again else ""


@dataclass(frozen=True)
class Waiting:
    """A kind of question that comes back: how many of the `RESTS` it has passed, at which count of answers it is due, and the mistakes
    that may have been made, without those that a right answer since has shown not to be it. apart: it was not wrong itself, but tells
    apart the mistakes in an answer to one of another kind. shown: its answer was shown, and none was wrong since."""

    passed: int
    due: int
    mistakes: tuple[str, ...] = ()
    apart: bool = False
    shown: bool = False


def kinds_in(scene: str) -> tuple[str, ...]:
    """The names of a scene's kinds of question."""
    return tuple(kind.name for kind in catalogue.scene_class(scene).kinds) if scene in catalogue.NAMES else (FORWARD,)


def waiting(answers: Sequence[Answer]) -> dict[tuple[str, str], Waiting]:
    """The kinds of question that come back, by scene and kind."""
    found: dict[tuple[str, str], Waiting] = {}
    for place, answer in enumerate(answers, 1):
        key, mistakes = (answer.scene, answer.kind), parted(answer.mistake)
        if answer.seed not in NUMBERS:
            continue
        if answer.shown:
            found[key] = Waiting(0, place + RESTS[0], found[key].mistakes if key in found else (), shown=True)
        elif not answer.right:
            found[key] = Waiting(0, place + RESTS[0], mistakes)
            if len(mistakes) > 1 and answer.kind != TO_TELL_APART and TO_TELL_APART in kinds_in(answer.scene):
                found.setdefault((answer.scene, TO_TELL_APART), Waiting(len(RESTS) - 1, place + 1, mistakes, apart=True))
        elif key in found and found[key].due < place:  # asked by chance before that, it does not count
            passed, avoided = found[key].passed + 1, parted(answer.avoided)
            left = tuple(name for name in found[key].mistakes if name not in avoided)
            if passed == len(RESTS):
                del found[key]
            else:
                found[key] = Waiting(passed, place + RESTS[passed], left or found[key].mistakes)
    return found


def next_question(answers: Sequence[Answer], scenes: Sequence[str], dice: random.Random, kinds=kinds_in) -> Next:
    """The next question from `scenes`, by name, and of their `kinds`; those due go before new ones, and none about a set-up that was
    asked about before."""
    back = {key: wait for key, wait in waiting(answers).items() if key[0] in scenes and key[1] in kinds(key[0])}
    due = [(wait.due, *key) for key, wait in back.items() if wait.due <= len(answers)]
    if due:
        _, scene, kind = min(due)
        wait = back[scene, kind]
        return Next(scene, kind, _new_seed(answers, scene, kind, dice), True, wait.mistakes, wait.apart, wait.shown)
    (scene,) = dice.choices(scenes, [_weight(answers, name) for name in scenes])
    names = [name for name in kinds(scene) if (scene, name) not in back] or list(kinds(scene))
    (kind,) = dice.choices(names, [_weight(answers, scene, name) * (FIRST_OF_ALL if name == FORWARD else 1) for name in names])
    return Next(scene, kind, _new_seed(answers, scene, kind, dice), again=False)


def _new_seed(answers: Sequence[Answer], scene: str, kind: str, dice: random.Random) -> int:
    asked = {answer.seed for answer in answers if (answer.scene, answer.kind) == (scene, kind)}
    new = [seed for seed in NUMBERS if seed not in asked]
    return dice.choice(new or NUMBERS)


def _weight(answers: Sequence[Answer], scene: str, kind: str | None = None) -> int:
    recent = [answer.right for answer in answers if answer.scene == scene and kind in (None, answer.kind)][-RECENT:]
    return 1 + recent.count(False) if recent else NEVER_ASKED


def _figures(text: str) -> set[str]:
    return set(re.findall(r"(?<![\w.])\d+(?:\.\d+)?", text))


# Long, for what comes next and what is made of an answer follow from the same answers.
class Practice:
    """A student at work: the results so far, the scenes that are asked about, and what comes next. in_text: whether the picture is not
    seen, so that only what can be answered from its words is asked. built: scenes on which questions are tried out, by name, where
    several students share them."""

    def __init__(
        self,
        results: Results,
        scenes: Sequence[str],
        dice: random.Random,
        in_text: bool = False,
        built: dict[str, Scene] | None = None,
    ):
        self.results = results
        self.scenes = scenes
        self.in_text = in_text
        self._dice = dice
        self._built: dict[str, Scene] = {} if built is None else built
        self._alike: set[tuple] = set()  # kinds that hardly ever tell apart what it may be, which is not tried again

    def kinds(self, scene: str) -> tuple[str, ...]:
        """The names of the kinds that are asked about a scene."""
        return tuple(kind.name for kind in catalogue.scene_class(scene).kinds if kind.in_text or not self.in_text)

    def next(self) -> Next:
        """The next question; a new one is not worded like any of the last few, and one that comes back lets the mistake show, or tells
        apart those that it may be, if that can be had."""
        recent = {answer.question for answer in self.results.all[-UNLIKE:]}
        good: Next | None = None
        for attempt in range(TRIES):
            wanted = next_question(self.results.all, self.scenes, self._dice, self.kinds)
            question, mistakes = self._put(wanted), wanted.mistakes
            if question.text in recent or mistakes and not shown_by(question) & set(mistakes):
                continue
            good, key = wanted, (wanted.scene, wanted.kind, mistakes)
            if len(mistakes) < 2 or key in self._alike or tells_apart(question, mistakes):
                break
            if attempt == TRIES - 1:
                self._alike.add(key)
        found = good or wanted
        if found.apart and not tells_apart(self._put(found), found.mistakes):
            return replace(found, again=False, apart=False)  # it is not said to show what it does not
        return found

    def unlike(self, sat: Sequence[Answer]) -> Next:
        """A question for one who is tested: none comes back, and as long as there are others of no kind that was put before; nor with
        the figures of one, which may tell the answer."""
        before = {(answer.scene, answer.kind) for answer in sat}
        told = [_figures(f"{answer.question} {answer.answer}") for answer in sat]
        good: Next | None = None
        for _ in range(8 * TRIES):
            wanted = next_question([], self.scenes, self._dice, self.kinds)
            if (wanted.scene, wanted.kind) in before:
                continue
            good, figures = wanted, _figures(self._put(wanted).text)
            if not any(len(figures & each) >= ALIKE for each in told):
                break
        return good or wanted

    def _put(self, wanted: Next) -> Question:
        if wanted.scene not in self._built:
            self._built[wanted.scene] = catalogue.scene_class(wanted.scene)()
        scene = self._built[wanted.scene]
        prediction = Prediction()
        prediction.ask(scene, wanted.seed, wanted.kind)
        return prediction.posed

    def answer(self, scene: Scene, prediction: Prediction, choice: str) -> None:
        """Take an answer about what the scene shows. A wrong one may be tried once more before the answer is shown: then the mistake
        that is known to be behind it, from this answer or from those before it, is named, and a hand shows it."""
        first = prediction.tried is None
        prediction.answer(choice, tries=2)
        if first:
            self.take(scene, prediction)
        if prediction.waiting:
            prediction.name_mistake(self.steady_name(), self.steady_mistake(), scene)
        else:
            prediction.note = f"{self.steady_mistake() if first else ''} {self.when_it_returns()}".strip()

    def reveal(self, scene: Scene, prediction: Prediction) -> None:
        """Show the answer: the question counts as not known, if no answer to it has counted yet."""
        first = prediction.tried is None
        prediction.reveal()
        if first:
            self.take(scene, prediction)
        prediction.note = self.when_it_returns()

    def sit(self, scene: Scene, prediction: Prediction, choice: str, test: MockTest) -> None:
        """Take an answer in a mock test: the first counts, and the score of practice stays as it was."""
        score = prediction.right, prediction.asked
        prediction.answer(choice)
        prediction.right, prediction.asked = score
        self.take(scene, prediction)
        test.take(self.results.all[-1], explained(prediction.posed, prediction.given))

    def take(self, scene: Scene, prediction: Prediction) -> None:
        """Add the answer just given, of two the first, or that it was shown, to the results, to be written."""
        self.results.add(_answer(scene, prediction))

    def when_it_returns(self) -> str:
        """When the kind of question just answered comes back, in a sentence; empty if it was right first time."""
        answers = self.results.all
        last = answers[-1]
        key = (last.scene, last.kind)
        coming_back = waiting(answers)
        if key in coming_back:
            return f"A question of this kind comes back after {RESTS[coming_back[key].passed]} others."
        before = waiting(answers[:-1]).get(key)
        return "You know this kind now." if before and not before.apart else ""

    def steady_name(self) -> str | None:
        """The mistake that the last answers have in common, by name; None where they have none, or more than one, or the very last
        is without it."""
        answers = self.results.all
        name = steady([_evidence(answer) for answer in answers[-REMEMBERED:]])
        return name if name in parted(answers[-1].mistake) else None

    def steady_mistake(self) -> str:
        """What the answers before tell of the mistake in the last one, which is named beside it, in a sentence; "" for nothing."""
        name, answers = self.steady_name(), self.results.all[-REMEMBERED:]
        if name is None:
            return ""
        if parted(answers[-1].mistake) != (name,):
            return f"Of these mistakes only one fits your earlier answers too: {name}."
        return MADE_BEFORE if any(parted(answer.mistake) == (name,) for answer in answers[:-1]) else ""


def _answer(scene: Scene, prediction: Prediction) -> Answer:
    """The answer just given, of two the first, or that it was shown, as it is kept."""
    question, given = prediction.posed, prediction.first_given
    kind, tells = [("kind", prediction.kind)] if prediction.kind else [], evidence(question, given)
    return Answer(
        when=now(),
        scene=scene.name,
        seed=prediction.seed,
        address=address.written(scene, prediction.seed, kind),
        question=question.text,
        given="" if given is None else question.words_of(given),
        answer=question.words_of(question.answer),
        right=given is not None and question.is_right(given),
        kind=question.kind,
        mistake=written(sorted(tells.made)),
        avoided=written(sorted(tells.avoided)),
    )


def _evidence(answer: Answer) -> Evidence:
    return Evidence(frozenset(parted(answer.mistake)), frozenset(parted(answer.avoided)))


def title_and_kind(answer: Answer) -> dict[str, str]:
    """Scene and kind of an answer in words; as they are kept where this version does not know them."""
    if answer.scene not in catalogue.NAMES:
        return {}
    scene = catalogue.scene_class(answer.scene)
    kind: Kind | None = kind_of(scene, answer.kind) if answer.kind in kinds_in(answer.scene) else None
    return {"scene": scene.title, "kind": kind.words if kind else answer.kind}
