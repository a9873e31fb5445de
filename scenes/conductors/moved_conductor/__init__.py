"""The moving conductor: a rod moved through a magnet's gap, its meter and what it feeds."""
