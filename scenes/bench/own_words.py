"""Which choice somebody means who answers in words of their own."""

from __future__ import annotations

import re

from physics.arguments import quoted
from scenes.scene.scene import Question

# what people write, and what it is called here; in this order
SAME: tuple[tuple[str, str], ...] = tuple(
    (rf"\b{written}\b", called)
    for written, called in (
        (r"(anti|counter)[- ]?clock[- ]?wise|a\.?c\.?w|c\.?c\.?w", "counter-clockwise"),
        (r"clock[- ]wise|c\.?w", "clockwise"),
        (r"(r\.?p\.?m|revs?(olutions)?( |/)?(per|a|/)? ?min(ute)?|1/min)", "r/min"),
        (r"hertz|cycles( (per|a) second)?", "hz"),
        (r"(up|down|left|right|for|back)wards?", r"\1"),
        (r"out( of| from)? (the )?(page|screen|board|paper|picture)", "toward you"),
        (r"in(to)? (the )?(page|screen|board|paper|picture)", "away from you"),
        (r"towards? (me|us|the viewer|the reader)|towards|at me|to me", "toward you"),
        (r"(away )?from (me|us)", "away from you"),
        (r"(the )?north( pole)?|n[- ]pole", "n pole"),
        (r"(the )?south( pole)?|s[- ]pole", "s pole"),
        (r"bottom|below|underneath", "lower"),
        (r"top|above", "upper"),
        (r"attract(s|ed|ion|ive)?|pull(s|ed)? together", "attract"),
        (r"repel(s|led|ling)?|repulsion|repulsive|push(es|ed)? apart", "repel"),
        (r"stall(s|ed|ing)|gets? stuck", "stalls"),
    )
)
FILLERS = frozenset(
    "a an the it is its are was will would be to of in on and at this that side direction way move moves moved go goes pushed push pushes"
    " rod wire points point current flows turn turns rotates rotor field shaft motor machine think i by about".split()
)
NOTHING = re.compile(
    r"\b(no (force|push|voltage|emf|current|motion|movement|field|torque|turning|rotation|direction)|none|nothing|nowhere|not at all|zero"
    r"|neither|(does|do|is|will)(n't| not) (be )?(move|moved|turn|rotate|pushed?|go|start|anywhere|act)|stays? (still|put|where it is)"
    r"|(stands?|stay) still|no)\b"
)
DENIED = re.compile(r"\b(not|no|never|neither)\b|n't\b")
NUMBERS = {word: str(number) for number, word in enumerate("zero one two three four five six seven eight nine ten eleven twelve".split())}
OF_NOTHING = ("nowhere", "none", "sound", "stays", "stays at rest")  # the values of the choices that say so


def choice_meant(question: Question, text: str) -> str:
    """The value of the choice meant by `text`: its value, its words, enough of its words to identify it, or what people say for it;
    `ValueError` with the choices if it matches none of them, or several. A figure with its unit where that is asked for."""
    if question.figure:
        return question.taken(text)
    said = text.lower().split()
    # words first: looking at the non-drive end, "clockwise" is the choice whose value is counter-clockwise
    for exact in (lambda value, words: words, lambda value, words: value):
        for value, words in question.choices:
            if said == exact(value, words).lower().split():
                return value
    near = [value for value, words in question.choices if said and set(said) <= set(words.lower().split())]
    if len(near) != 1:
        near = _in_own_words(question, text)
    if len(near) == 1:
        return near[0]
    words_of = dict(question.choices)
    if near:
        raise ValueError(f"{quoted(text)} may mean {' or '.join(words_of[value] for value in near)}; say which.")
    raise ValueError(f"{quoted(text)} is none of the answers: {' | '.join(words_of.values())}.")


def _in_own_words(question: Question, text: str) -> list[str]:
    """The choices that `text` may mean, once it is put in the words that are used here."""
    said = _plain(text)
    also = {words: value for words, value in question.also if words in said.split()}
    if also:
        return sorted(set(also.values()))
    tokens = _telling(said)
    named = [(value, _telling(_plain(words))) for value, words in question.choices]
    if NOTHING.search(said):
        nothing = [value for value, _ in question.choices if value in OF_NOTHING]
        elsewhere = any(tokens & words for value, words in named if value not in nothing)
        return [] if elsewhere else nothing
    if not tokens or DENIED.search(said):
        return []
    within = [value for value, words in named if tokens <= words]
    holding = [value for value, words in named if words and words <= tokens]
    return within or holding or [value for value, words in named if tokens & words - _of_others(value, named)]


def _of_others(value: str, named: list[tuple[str, set[str]]]) -> set[str]:
    """The words of the other choices: one that is in none of them tells a choice by itself."""
    return set().union(*(words for other, words in named if other != value))


def _plain(text: str) -> str:
    """In small letters, without marks, figures without separators and apart from their units, and in the words that are used here."""
    plain = text.lower().replace("\N{RIGHT SINGLE QUOTATION MARK}", "'").replace("\N{MINUS SIGN}", "-")
    plain = re.sub(r"(?<=\d)[ ,'](?=\d{3}\b)", "", plain)
    plain = re.sub(r"(?<=\d),(?=\d)", ".", plain)
    plain = re.sub(r"(?<=\d)(?=[a-z])", " ", plain)
    for written, called in SAME:
        plain = re.sub(written, called, plain)
    return " ".join(re.sub(r"[.,;:!?\"()]+(?=\s|$)|[\"()]", " ", plain).split())


def _telling(plain: str) -> set[str]:
    """The words that tell one choice from another."""
    return {NUMBERS.get(word, word) for word in plain.split()} - FILLERS
