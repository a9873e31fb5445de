"""Three phases in a stator: they make a rotating field though nothing moves."""
