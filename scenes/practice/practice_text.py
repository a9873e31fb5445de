"""Practice in the terminal: a round of questions, answered by the number or letter of a choice, or in words; a mock test."""

from __future__ import annotations

from scenes import catalogue
from scenes.bench.own_words import choice_meant
from scenes.bench.prediction import Prediction
from scenes.kept.lines import NotKept
from scenes.practice.mock import MockTest, mistakes_made
from scenes.practice.practice import Practice, waiting
from scenes.questions.mistakes import explained
from scenes.scene.question import Question
from scenes.scene.scene import Scene

LEAVE = ("q", "quit", "exit")
MARKS = "abcdefghi"  # of choices: letters, for some choices are numbers themselves


def hold(practice: Practice, questions: int, minutes: float | None = None) -> None:
    """Ask that many questions, or until the input ends, and print the score. `minutes`: as a mock test, which ends when they have passed
    and tells what was right only then. `NotKept` if answers could not be saved."""
    scenes = {name: catalogue.scene_class(name)() for name in practice.scenes}
    prediction, test = Prediction(), None if minutes is None else MockTest(questions, minutes)
    mock = "" if minutes is None else f" A mock test of {minutes:g} minutes: what was right is told at the end."
    print(
        "One question." if questions == 1 else f"{questions} questions.",
        f"Answer with the letter of a choice, or in its words; a figure with its unit; q quits.{mock}",
    )
    try:
        for number in range(1, questions + 1):
            wanted = practice.next() if test is None else practice.unlike(test.sat)
            scene = scenes[wanted.scene]
            prediction.ask(scene, wanted.seed, wanted.kind)
            print(f"\n{number}. {scene.title}")
            if wanted.note:
                print(wanted.note)
            choice = _answer_to(prediction.posed)
            if test is not None and test.out_of_time and choice is not None:
                print("The time is over: this answer does not count.")
                choice = None
            if choice is None:
                break
            prediction.answer(choice, tries=1 if test is not None else 2)
            _keep(practice, scene, prediction)
            if test is not None:
                test.take(practice.results.all[-1], explained(prediction.posed, prediction.given))
                continue
            goes_on = _second_try(prediction, practice)
            _explain(prediction, practice)
            if not goes_on:
                break
    except KeyboardInterrupt:
        print()
    if test is None:
        _sum_up(practice, prediction)
    else:
        if not test.over:
            test.end(prediction.question)
        _go_through(test)
    practice.results.keep()


def _second_try(prediction: Prediction, practice: Practice) -> bool:
    """After a wrong answer another may be given, which does not count; whether the round goes on: whoever quits is shown the answer."""
    if not prediction.waiting:
        return True
    prediction.name_mistake(practice.steady_name(), practice.steady_mistake())
    print(prediction.note)
    choice = _taken(prediction.posed)
    if choice is None:
        prediction.reveal()
        return False
    prediction.answer(choice)
    return True


def _answer_to(question: Question) -> str | None:
    """The choice taken; `None` if the student quits."""
    print(question.text)
    for mark, (_, words) in zip(_marks(question), question.choices, strict=False):
        print(f"  {mark}  {words}")
    return _taken(question)


def _taken(question: Question) -> str | None:
    marks = _marks(question)
    marked = {mark: value for mark, (value, _) in zip(marks, question.choices, strict=False)}
    while True:
        try:
            text = input("> ").strip()
        except EOFError:
            print()
            return None
        if text.lower() in LEAVE:
            return None
        try:
            return marked.get(text.lower()) or choice_meant(question, text)
        except ValueError as wrong:
            print(f"Answer with one of {', '.join(marks)}, or in the words beside it; q quits." if marks else f"{wrong} q quits.")


def _marks(question: Question) -> str:
    """The mark of each choice; none where there are too many."""
    return "" if len(question.choices) > len(MARKS) else MARKS[: len(question.choices)]


def _keep(practice: Practice, scene: Scene, prediction: Prediction) -> None:
    practice.take(scene, prediction)
    try:
        practice.results.keep()
    except NotKept as wrong:
        practice.results.told.append(f"{wrong} Saving is tried again with the next answer.")
    for sentence in practice.results.sentences():
        print(sentence)


def _explain(prediction: Prediction, practice: Practice) -> None:
    question = prediction.posed
    given = prediction.given
    assert given is not None  # it was just given
    if prediction.told:  # who quits has been told of the mistake
        print(f"Answer: {question.words_of(given)}. {question.reason} {practice.when_it_returns()}".strip())
        return
    if question.is_right(given):
        print(f"Right: {question.words_of(given)}.")
    else:
        print(f"Wrong: {question.words_of(given)}. Answer: {question.words_of(question.answer)}.")
    before = "" if prediction.tried else practice.steady_mistake()  # else it was told with the first try
    print(" ".join(filter(None, [explained(question, given), before, practice.when_it_returns()])))


def _go_through(test: MockTest) -> None:
    """What was put in a mock test, what was right and why, which mistakes were made, and how much was right of all that was to be
    answered."""
    print()
    for each in test.put:
        given = f"{'Right' if each['right'] else 'Wrong'}: {each['given']}." if each["given"] else "Not answered."
        answer = "" if each["right"] else f" Answer: {each['answer']}."
        print(f"{each['question']}\n  {given}{answer} {each['reason']}")
    if made := mistakes_made(test.sat):
        print(f"Mistakes: {', '.join(made)}.")
    print(f"\n{test.result}.")


def _sum_up(practice: Practice, prediction: Prediction) -> None:
    back = sum(scene in practice.scenes for scene, _ in waiting(practice.results.all))
    kinds = {0: "", 1: " One kind of question comes back in the next round."}
    print(f"\n{prediction.right} of {prediction.asked} right.{kinds.get(back, f' {back} kinds of question come back in the next rounds.')}")
