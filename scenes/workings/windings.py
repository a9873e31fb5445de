"""Working of the winding factors of a regular three-phase winding: distribution, pitch, and their harmonics."""

from __future__ import annotations

from physics import arguments
from physics.windings import Winding
from scenes.workings.writing import Ask, Step, Table, Topic, Working, carried, exact, known, step

HARMONICS = (1, 5, 7, 11, 13)  # those of a three-phase winding up to the slot harmonics of the usual ones


def winding_factors(slots, poles, coil_pitch=None) -> Working:
    """The winding of `poles` poles in `slots` slots, its coils over `coil_pitch` slots; full pitch if that is not given."""
    winding = winding_of(slots, poles, coil_pitch)
    return Working(
        "Winding factors: how much of the turns counts",
        (
            known("Q", "slots", winding.slots),
            known("2p", "poles", winding.poles),
            known("y", "coil pitch, slots", winding.span),
        ),
        winding_factor_steps(winding),
        tables=(_harmonics(winding),),
        remark=_remark(winding),
    )


def _remark(winding: Winding) -> str:
    short = winding.slots // winding.poles - winding.span
    if not short:
        return "At full pitch every harmonic has a pitch factor of 1 or −1: the distribution alone weakens the 5th and the 7th."
    lost = 100 * (1 - float(winding.pitch_factor()))
    fifth, seventh = (abs(float(winding.pitch_factor(n))) for n in (5, 7))
    return (
        f"The coils are {short} {'slot' if short == 1 else 'slots'} short of full pitch: of the working wave that takes {lost:.1f} %, and "
        f"leaves {100 * fifth:.0f} % of the 5th harmonic and {100 * seventh:.0f} % of the 7th."
    )


def winding_of(slots, poles, coil_pitch=None) -> Winding:
    """In two layers, for which every pitch can be laid; the factors of one layer are those of full pitch."""
    slots, poles = arguments.whole("slots", slots), arguments.poles("poles", poles)
    return Winding(slots, poles, 1, None if coil_pitch is None else arguments.whole("coil_pitch", coil_pitch), 2)


def winding_factor_steps(winding: Winding) -> tuple[Step, ...]:
    """From slots and poles to the winding factor of the working wave."""
    per_belt, angle = winding.slots_per_pole_and_phase, 180 * winding.poles / winding.slots
    full = winding.slots // winding.poles
    distribution, pitch = float(winding.distribution_factor()), float(winding.pitch_factor())
    return (
        step("slots per pole and phase", "q", "Q / (2p × 3)", f"{winding.slots} / ({winding.poles} × 3)", per_belt),
        step("angle from slot to slot, electrical", "α", "180° × 2p / Q", f"180° × {winding.poles} / {winding.slots}", angle, "°"),
        step(
            "distribution factor", "k_d", "sin(q α / 2) / (q sin(α / 2))",
            f"sin({per_belt} × {carried(angle / 2)}°) / ({per_belt} × sin({carried(angle / 2)}°))", distribution,
        ),
        step("full pitch", "τ", "Q / 2p", f"{winding.slots} / {winding.poles}", full, "slots"),
        step("pitch factor", "k_p", "sin(90° × y / τ)", f"sin(90° × {winding.span} / {exact(full)})", pitch),
        step(
            "winding factor", "k_w", "k_d k_p", f"{carried(distribution)} × {carried(pitch)}", float(winding.winding_factor()),
        ),
    )  # fmt: skip


def _harmonics(winding: Winding) -> Table:
    rows = tuple(
        (f"{n}", float(winding.distribution_factor(n)), float(winding.pitch_factor(n)), float(winding.winding_factor(n))) for n in HARMONICS
    )
    columns = (("harmonic", ""), ("distribution factor", ""), ("pitch factor", ""), ("winding factor", ""))
    return Table("the working wave and its harmonics, signed", columns, rows)


TOPICS = (
    Topic(
        "winding-factors",
        "distribution, pitch and winding factor of a three-phase winding",
        (
            Ask("slots", "number of slots, a multiple of 3 × poles"),
            Ask("poles", "number of poles, even"),
            Ask("coil_pitch", "coil pitch in slots; full pitch if not given", needed=False),
        ),
        winding_factors,
    ),
)
