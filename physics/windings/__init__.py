"""Three-phase windings: coils in slots, regular or laid one by one, their MMF round the bore, and the winding factors."""

from physics.windings.laid import LaidWinding
from physics.windings.winding import Winding

__all__ = ["LaidWinding", "Winding"]
