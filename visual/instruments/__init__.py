"""Measuring instruments with their probes, clips and clamp, a proving unit to prove a tester on, and the lock on an isolator."""
