"""A scene as a PNG."""
