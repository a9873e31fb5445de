"""Motors on one phase: windings, fields and the circuit they are in."""
