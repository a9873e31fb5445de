"""Windings as they lie in a machine: coils with their end windings, and the leads that join them."""
