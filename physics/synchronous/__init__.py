"""Machines whose rotor turns exactly with the field."""

from physics.synchronous.machine import SynchronousMachine

__all__ = ["SynchronousMachine"]
