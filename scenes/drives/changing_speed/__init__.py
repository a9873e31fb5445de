"""Changing speed: an inverter gives any frequency, a pole-changing winding a few fixed speeds."""

from scenes.drives.changing_speed.scene import ChangingSpeed

__all__ = ["ChangingSpeed"]
