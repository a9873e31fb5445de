"""One phase: a three-phase motor that has lost a phase, and motors made for one phase."""

from scenes.drives.one_phase.scene import OnePhase

__all__ = ["OnePhase"]
