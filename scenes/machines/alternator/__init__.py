"""The alternator: a magnet turning inside coils, and its load."""
