"""Readings that several scenes share: one symbol, the same words, one formula."""

from __future__ import annotations

from scenes.scene.scene import Reading
from scenes.scene.views import View


def synchronous_speed(rpm: float, frequency: float, poles: int, of: str = "that of the field", tells: bool = False) -> Reading:
    return Reading(
        "nₛ",
        f"synchronous speed: {of}",
        f"{rpm:.0f}",
        "r/min",
        f"nₛ = 120 f / poles = 120 × {frequency:.5g} Hz / {poles} = {rpm:.0f} r/min",
        tells,
    )


def load_torque(torque: float, percent: float, rated: float, decimals: int = 1, also: str = "") -> Reading:
    """Torques in N m; `also`: what is said besides of the formula."""
    words, formula = "load on the shaft", f"{percent:g} % × the rated {rated:.{decimals + 1}f} N m{also}"
    return Reading("T\N{LATIN SUBSCRIPT SMALL LETTER L}", words, f"{torque:.{decimals}f}", "N m", formula)


def field_rotation(view: View, speed: float, uneven: bool) -> Reading:
    rotation = view.turning(speed)
    return Reading(
        "",
        f"rotation of the field, looking at {view.end}",
        "it does not rotate" if rotation == "none" else rotation,
        "",
        "unevenly: a second wave rotates against it" if uneven else "",
        tells=True,
    )
