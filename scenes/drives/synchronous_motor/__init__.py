"""A synchronous motor: in step with its field or not at all, and its power factor set by its excitation."""
