"""What scenes with rotating fields ask alike: the speed of the field, slip and the frequency in the rotor, and the usual slips "
"of the pen."""

from __future__ import annotations

from scenes.questions.mistakes import MINUTES, POLES, ROTOR_FOR_FIELD, SUM, left_out
from scenes.scene.typed import shown


def field_speed(frequency: float, poles: int) -> float:
    """r/min"""
    return 60 * frequency / (poles / 2)


def field_speed_slips(frequency: float, poles: int) -> dict[str, float]:
    return {POLES: 60 * frequency / poles, MINUTES: frequency / (poles / 2), left_out("the number of poles"): 60 * frequency}


def field_speed_because(frequency: float, poles: int) -> str:
    return (
        f"In each cycle the field passes two poles: nₛ = 120 f / poles = 120 × {frequency:g} Hz / {poles} = "
        f"{field_speed(frequency, poles):.0f} r/min."
    )


def slip_slips(synchronous: float, rotor: float) -> dict[str, float]:
    """Of the slip in %, from both speeds in r/min."""
    found = {SUM: 100 * (synchronous + rotor) / synchronous}
    return found | ({ROTOR_FOR_FIELD: 100 * (synchronous - rotor) / rotor} if rotor else {})


def slip_because(synchronous: float, rotor: float) -> str:
    slip = 100 * (synchronous - rotor) / synchronous
    return f"s = (nₛ − n) / nₛ = ({synchronous:.0f} − {rotor:.0f}) / {synchronous:.0f} = {shown(slip)} %."


def rotor_frequency_slips(frequency: float, slip: float) -> dict[str, float]:
    """Of the frequency in the rotor, from the slip as a share."""
    return {ROTOR_FOR_FIELD: frequency * abs(1 - slip), SUM: frequency * (1 + slip)}
