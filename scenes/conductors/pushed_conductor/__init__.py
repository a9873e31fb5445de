"""The pushed conductor: a rod carrying current, hung between the poles of a magnet."""
