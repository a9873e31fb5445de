"""Three-phase windings: coils in slots, their MMF round the bore, and the winding factors."""

from physics.windings.winding import Winding

__all__ = ["Winding"]
