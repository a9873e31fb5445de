"""A lesson, step by step."""
