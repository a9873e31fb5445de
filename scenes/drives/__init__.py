"""Scenes of motors under load: slip, speed, starting."""
