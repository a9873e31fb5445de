"""The hands of the hand rules."""
