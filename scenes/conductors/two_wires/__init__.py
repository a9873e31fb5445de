"""Force between two currents: a pair of parallel wires hung side by side."""
