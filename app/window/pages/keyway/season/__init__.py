"""The season beside the Keyway page: asked for, charted and tabled in a window of its own."""
