"""The bench: one scene at a time, driven from its pages."""
