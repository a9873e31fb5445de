"""A motor's terminal box with its cover off, the windings as a circuit, and the motor looked at from its drive end."""
