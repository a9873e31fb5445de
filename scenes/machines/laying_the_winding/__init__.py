"""A winding laid coil by coil: in the slots of the bore and on the unrolled drawing, rightly or wrongly, and fed."""

from scenes.machines.laying_the_winding.scene import LayingTheWinding

__all__ = ["LayingTheWinding"]
