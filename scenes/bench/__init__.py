"""The bench: one scene at a time, controlled from its pages."""
