"""Slip and speed: the field laps the rotor, and the more load there is, the oftener."""

from scenes.drives.slip_and_speed.scene import SlipAndSpeed

__all__ = ["SlipAndSpeed"]
