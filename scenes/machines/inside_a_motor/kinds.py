"""The kinds of question on the parts of a motor."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

from scenes.machines.inside_a_motor.parts import PARTS
from scenes.machines.inside_a_motor.question import alike, subject
from scenes.questions.kinds import Kind, SetUp, forward
from scenes.questions.mistakes import LIKE_PART
from scenes.scene.question import FORWARD, PRESSED, Question

SHOWN = {"by": "hand", "apart": 100.0}
TOGETHER = {"by": "itself", "apart": 0.0}


def _mistaken(setup: SetUp) -> dict[str, str]:
    """The part that is most easily taken for the right one."""
    own = subject(setup.typed)
    near = [part.key for part in PARTS[setup.typed.motor] if part is not own and alike(own, part)]
    return {LIKE_PART: near[0]} if near else {}


OF_THE_LIT = ("name", "job")


def _kind(name: str, words: str, asked: str, answered: str = "choice", **more: Any) -> Kind:
    shown = {"asked": asked} | (TOGETHER if asked == "order" else SHOWN)
    more = dict[str, Any](even=False, aside=("by",)) | more
    kind = forward(words, name=name, answered=answered, setup=lambda dice, settings: shown, **more)

    def put(setup: SetUp) -> Question | None:
        """Not of a part that is not lit, nor, but for the order, of one that others may still cover."""
        seen = asked == "order" or setup.now.share == 1
        return kind.put(setup) if seen and (setup.now.setup.part or asked not in OF_THE_LIT) else None

    return replace(kind, put=put)


KINDS = (
    _kind(FORWARD, "which part does it", "which", PRESSED, mistaken=_mistaken),
    _kind("place", "where a part is", "place", PRESSED, in_text=False),
    _kind("name", "name of the lit part", "name", mistaken=_mistaken),
    _kind("why", "what the lit part is there for", "job"),
    _kind("order", "what comes off first", "order"),
    _kind("compare", "which motor has it", "motor", even=True),
)
