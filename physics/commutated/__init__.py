"""The commutator machine: armature, brushes, commutation, motion."""
