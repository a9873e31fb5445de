"""Instruments on a motor's terminal board: measured in the right order, and the fault named from the figures."""
