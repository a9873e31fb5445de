"""Coils and commutator: coils between magnet poles, as a motor and as a generator."""
