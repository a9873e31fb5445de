"""A question of the instructor's own: as it stands in a lesson's file, and as it is put."""

from __future__ import annotations

from physics.arguments import quoted
from scenes.names import did_you_mean
from scenes.scene.question import Question

LONGEST = {"text": 300, "choices": 120, "reason": 600}  # characters
CHOICES = (2, 6)  # from so many to so many
ASIDE = "aside"  # what is begun is kept, and another question, or none, is put in its place
KINDS: dict[str, tuple[type, str]] = {
    "text": (str, "text in quotes"),
    "choices": (list, 'answers in brackets, ["yes", "no"]'),
    "right": (int, "the number of the right choice, counted from 1"),
    "reason": (str, "text in quotes"),
}


def own_question(given: dict) -> Question:
    """The question in a step's table; `ValueError`, in a sentence that begins with the key, if it is not whole."""
    for key, value in given.items():
        if key not in KINDS:
            raise ValueError(f"{key} is nothing that a question has; {did_you_mean(key, KINDS, 'it has')}")
        kind, words = KINDS[key]
        if not isinstance(value, kind) or isinstance(value, bool):
            raise ValueError(f"{key} takes {words}, not {quoted(value)}")
    text, choices, right, reason = given.get("text", ""), given.get("choices", []), given.get("right", 0), given.get("reason", "")
    least, most = CHOICES
    if not text.strip() or len(text) > LONGEST["text"]:
        raise ValueError(f"text of a question is needed, at most {LONGEST['text']} characters")
    if not all(isinstance(choice, str) and choice.strip() and len(choice) <= LONGEST["choices"] for choice in choices):
        raise ValueError(f"choices are texts of at most {LONGEST['choices']} characters, none empty")
    if not least <= len(set(choices)) == len(choices) <= most:
        raise ValueError(f"choices of a question are from {least} to {most}, no two alike")
    if not 1 <= right <= len(choices):
        raise ValueError(f"right takes the number of the right choice, from 1 to {len(choices)}, not {quoted(right)}")
    if len(reason) > LONGEST["reason"]:
        raise ValueError(f"reason has at most {LONGEST['reason']} characters, this one {len(reason)}")
    return Question(text, tuple((str(number), choice) for number, choice in enumerate(choices, 1)), str(right), reason)


def checked_begun(given: dict) -> None:
    """What is written of a question that is not whole yet; `ValueError`, in a sentence that begins with the key, if it cannot be shown."""
    for key, value in given.items():
        kind, words = (KINDS | {ASIDE: (bool, "true or false")}).get(key, (None, ""))
        if kind is None:
            raise ValueError(f"{key} is nothing that a question has; {did_you_mean(key, (*KINDS, ASIDE), 'it has')}")
        if not isinstance(value, kind) or (isinstance(value, bool) and kind is not bool):
            raise ValueError(f"{key} takes {words}, not {quoted(value)}")
    if not all(isinstance(choice, str) for choice in given.get("choices", [])):
        raise ValueError("choices are texts")


def is_whole(given: dict) -> bool:
    try:
        own_question(given)
    except ValueError:
        return False
    return True


def lacks(given: dict) -> bool:
    """Whether something is still to be written, so that there is nothing wrong with it yet."""
    return not (given.get("text") and len(given.get("choices", ())) >= CHOICES[0] and given.get("right"))


def is_own(question: object) -> bool:
    """Whether a question, as a lesson's file has it, is one of one's own."""
    return isinstance(question, dict) and "kind" not in question


def written(begun: dict, question: object) -> dict:
    """One's own question as it was written last, if there is one: what is `begun`, or the one that is put."""
    return begun or (as_given(question) if isinstance(question, Question) else {})


def as_given(question: Question) -> dict:
    """The table that such a question was made from."""
    table = {"text": question.text, "choices": [words for _, words in question.choices], "right": int(question.answer)}
    return table | ({"reason": question.reason} if question.reason else {})
