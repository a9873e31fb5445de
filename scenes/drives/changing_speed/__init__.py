"""Changing speed: an inverter gives any frequency, a pole-changing winding a few fixed speeds."""
