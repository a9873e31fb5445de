"""What switches a motor: contactors, panels, resistors, and the leads to its terminals."""
