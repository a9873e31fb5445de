"""Practice in the terminal: a round of questions, answered by the number or letter of a choice, or in words."""

from __future__ import annotations

from scenes import catalogue
from scenes.bench.own_words import choice_meant
from scenes.bench.prediction import Prediction
from scenes.kept.lines import NotKept
from scenes.practice.practice import Practice, waiting
from scenes.scene.scene import Question

LEAVE = ("q", "quit", "exit")


def hold(practice: Practice, questions: int) -> None:
    """Ask that many questions, or until the input ends, and print the score. `NotKept` if answers could not be saved."""
    scenes = {name: catalogue.scene_class(name)() for name in practice.scenes}
    prediction = Prediction()
    print(
        "One question." if questions == 1 else f"{questions} questions.",
        "Answer with the number or letter of a choice, or in its words; q quits.",
    )
    try:
        for number in range(1, questions + 1):
            wanted = practice.next()
            scene = scenes[wanted.scene]
            prediction.ask(scene, wanted.seed)
            again = " (you got this wrong earlier: try again)" if wanted.again else ""
            print(f"\n{number}. {scene.title}{again}")
            choice = _answer_to(prediction.posed)
            if choice is None:
                break
            prediction.answer(choice)
            _keep(practice, scene, prediction)
            _explain(prediction, practice.when_it_returns())
    except KeyboardInterrupt:
        print()
    _sum_up(practice, prediction)
    practice.results.keep()


def _answer_to(question: Question) -> str | None:
    """The choice taken; `None` if the student quits."""
    print(question.text)
    marks = _marks(question)
    for mark, (_, words) in zip(marks, question.choices, strict=True):
        print(f"  {mark}  {words}")
    marked = {mark: value for mark, (value, _) in zip(marks, question.choices, strict=True)}
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
        except ValueError:
            print(f"Answer with one of {', '.join(marks)}, or in the words beside it; q quits.")


def _marks(question: Question) -> str:
    """The mark of each choice: numbers, or letters where a choice is itself a number."""
    numbers = any(words[:1].isdigit() for _, words in question.choices)
    return ("abcdefghi" if numbers else "123456789")[: len(question.choices)]


def _keep(practice: Practice, scene, prediction: Prediction) -> None:
    practice.take(scene, prediction)
    try:
        practice.results.keep()
    except NotKept as wrong:
        practice.results.told.append(f"{wrong} Saving is tried again with the next answer.")
    for sentence in practice.results.sentences():
        print(sentence)


def _explain(prediction: Prediction, when_it_returns: str) -> None:
    question = prediction.posed
    words = dict(question.choices)
    assert prediction.given is not None  # it was just given
    if prediction.given == question.answer:
        print(f"Right: {words[prediction.given]}.")
    else:
        print(f"Wrong: {words[prediction.given]}. Answer: {words[question.answer]}.")
    print(" ".join([question.reason_after(prediction.given), when_it_returns]).strip())


def _sum_up(practice: Practice, prediction: Prediction) -> None:
    back = sum(scene in practice.scenes for scene, _ in waiting(practice.results.all))
    coming = {0: "", 1: " One question comes back in the next round."}.get(back, f" {back} questions come back in the next rounds.")
    print(f"\n{prediction.right} of {prediction.asked} right.{coming}")
