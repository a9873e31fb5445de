"""A cage in a rotating field: what each bar generates, carries and is pushed with."""

from scenes.machines.cage_rotor.scene import CageRotor

__all__ = ["CageRotor"]
