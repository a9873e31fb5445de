"""Machines whose rotor turns exactly with the field."""
