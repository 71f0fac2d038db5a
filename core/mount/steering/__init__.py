"""The steerings of one pass side by side, and the best path."""
