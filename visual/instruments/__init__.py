"""Measuring instruments with their probes, clips and clamp, a known source to prove a tester on, and the lock on an isolator."""
