"""The commutator machine as it is drawn: frame, armature, commutator and what is connected to it."""
