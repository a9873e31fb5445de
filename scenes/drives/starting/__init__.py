"""Starting: one motor and one load, started in six ways; what that does to the line, the time and the rotor."""
