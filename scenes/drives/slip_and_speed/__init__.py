"""Slip and speed: the field laps the rotor, and the more load there is, the oftener."""
