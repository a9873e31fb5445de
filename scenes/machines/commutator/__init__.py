"""Coils and commutator: coils between magnet poles, as a motor and as a generator."""

from scenes.machines.commutator.scene import CoilsAndCommutator

__all__ = ["CoilsAndCommutator"]
