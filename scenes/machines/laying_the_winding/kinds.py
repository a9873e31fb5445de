"""The kinds of question on laying a winding."""

from __future__ import annotations

from scenes.machines.laying_the_winding import question
from scenes.machines.laying_the_winding.plans import KINDS as WINDINGS
from scenes.machines.laying_the_winding.plans import Plan, ends, laid, one_by_one, plan_of
from scenes.questions.compare import Change, Measure, compare, one_of
from scenes.questions.figures import figure
from scenes.questions.kinds import Kind, SetUp, forward
from scenes.questions.mistakes import COUNTED_BACK, FULL_PITCH, MECHANICAL, OFF_BY_ONE, OTHER_END, POLES
from scenes.questions.why import Reasons, statements, why
from scenes.scene.question import PRESSED, Question
from scenes.scene.typed import shown

FEW = ("12-2", "18-2", "24-2", "24-4", "18-6")  # slots, so that each can be offered
OTHER = {"clockwise": "counter-clockwise", "counter-clockwise": "clockwise", "none": "none"}
SHARED = {"stator": "Slots and poles change in the same proportion.", "winding": "Layers and pitch have no part in it."}
LAYERS = {"one-layer": "one layer of full pitch", "short": "two layers of short pitch"}


def _asked(name: str):
    """A winding about which that is asked."""

    def setup(dice, settings) -> dict:
        while True:
            drawn = question.random_setup(dice)
            if drawn["asked"] == name:
                return drawn

    return setup


def _one_wrong(dice, settings) -> dict:
    """All laid, with coils of one phase the wrong way round; or as the scene draws it."""
    drawn = _asked("wrong")(dice, settings)
    if dice.random() < 0.4:
        return drawn
    plan = plan_of(drawn | {"joined": "series"})
    phase, coils = dice.choice("UVW"), one_by_one(laid(plan, "all")).split(".")
    of_phase = [place for place, coil in enumerate(coils) if coil.startswith(phase)]
    for place in of_phase[: dice.choice((1, len(of_phase)))]:
        start, finish = coils[place][1:].split("-")
        coils[place] = f"{phase}{finish}-{start}"
    return drawn | {"laid": ".".join(coils)}


def _none_laid(dice, settings) -> dict:
    return {"asked": "slot", "laid": "none", "stator": dice.choice(FEW), "winding": dice.choice(list(WINDINGS)), "hand": dice.choice("UVW")}


def _plan(setup: SetUp) -> Plan:
    return setup.typed.plan


def _slot(setup: SetUp) -> Question | None:
    """Which slot the next coil finishes in, to be pressed; not asked where all are laid, or one wrongly."""
    now = setup.now
    if now.winding.whole or now.wrong:
        return None
    asked, plan = setup.question(), now.setup.plan
    coil, sense = question.coil_asked(now)
    start, finish = ends(coil)
    span, full = now.winding.plan.span, plan.slots // plan.poles
    slips = {OFF_BY_ONE: finish - sense, COUNTED_BACK: start - sense * span} | ({FULL_PITCH: start + sense * full} if span != full else {})
    wrong: dict[str, list[str]] = {}
    for mistake, slot in slips.items():
        if slot % plan.slots != finish:
            wrong.setdefault(_named(slot, plan), []).append(mistake)
    named = [_named(slot, plan) for slot in range(plan.slots)]
    found = Question(asked.text, tuple((name, name) for name in named), _named(finish, plan), asked.reason, pressed=True)
    return found.of_kind("slot", found.choices, wrong)


def _named(slot: int, plan: Plan) -> str:
    return f"slot {slot % plan.slots + 1}"


def _start(setup: SetUp) -> float:
    return float(setup.question().answer)


def _degrees(plan: Plan) -> float:
    """Electrical, from slot to slot."""
    return 180 * plan.poles / plan.slots


def _in_words(plan: Plan) -> str:
    return f"A stator has {plan.slots} slots and {plan.poles} poles."


def _because_degrees(plan: Plan) -> str:
    pairs = plan.poles // 2
    return f"A pole pair is 360° electrical and has {plan.slots} / {pairs} slots: 360° × {pairs} / {plan.slots} = {shown(_degrees(plan))}°."


def _why(setup: SetUp) -> Reasons:
    plan = _plan(setup)
    angle, mechanical = _degrees(plan), 360 / plan.slots

    between = 120  # degrees from U to V
    return statements(
        f"{_in_words(plan)} Phase V starts {shown(between / angle)} slots after U. Why?",
        "from slot to slot it is {}°, and from U to V {}°",
        (shown(angle), between),
        [
            ((shown(mechanical), between), MECHANICAL if plan.poles > 2 else ""),
            ((shown(2 * angle), between), POLES),
            ((shown(angle), 2 * between), ""),
            ((shown(angle), between // 2), ""),
        ],
        _because_degrees(plan),
    )


KINDS = (
    forward(
        "which way the field rotates", lambda setup: {OTHER_END: OTHER[setup.question().answer]}, setup=_asked("turns"), aside=("current",)
    ),
    Kind("slot", "in which slot a coil finishes", _slot, answered=PRESSED, setup=_none_laid, even=False, aside=("laid",)),
    forward("which phase is laid wrong", name="wrong", setup=_one_wrong, aside=("current",)),
    figure(
        "start",
        "in which slot a phase starts",
        "",
        of=lambda setup: setup,
        asks=lambda setup: setup.question().text,
        size=_start,
        because=lambda setup: setup.question().reason,
        slips=lambda setup: {OFF_BY_ONE: _start(setup) - 1},
        tolerance=0.001,
        setup=_asked("start"),
        aside=("current",),
    ),
    figure(
        "figure",
        "how large the angle between two slots is",
        "°",
        of=_plan,
        asks=lambda plan: f"{_in_words(plan)} How many electrical degrees is it from one slot to the next?",
        size=_degrees,
        because=_because_degrees,
        slips=lambda plan: {MECHANICAL: 360 / plan.slots, POLES: 2 * _degrees(plan)},
        setup=_none_laid,
        aside=("laid", "stator"),
        works="winding-factors",
        given=lambda plan: {"slots": plan.slots, "poles": plan.poles},
    ),
    compare(
        lambda setup: f"{_in_words(_plan(setup))} It is to be wound in {WINDINGS[setup.settings['winding']]}.",
        (
            Change("stator", one_of("12-2", "24-2", "24-4", "48-4", "48-8")),
            Change("winding", one_of("one-layer", "short"), "the winding", LAYERS),
        ),
        (
            Measure(
                "the coil pitch, in slots",
                lambda plan: float(plan.winding.span),
                "slots",
                "The full pitch is slots / poles; a short one is less.",
                {"stator": SHARED["stator"]},
            ),
            Measure("the slots per pole and phase", lambda plan: plan.slots / plan.poles / 3, "", "Slots / (3 × poles).", SHARED),
            Measure("the electrical angle from slot to slot", _degrees, "°", "360° for each pole pair, shared by its slots.", SHARED),
        ),
        of=_plan,
        setup=lambda dice, settings: (
            _none_laid(dice, settings)
            | {"stator": dice.choice(("12-2", "24-2", "24-4", "48-4")), "winding": dice.choice(("one-layer", "short"))}
        ),
        aside=("laid", "stator", "winding"),
    ),
    why(_why, words="why a phase starts where it does", setup=_none_laid, aside=("laid",)),
)
