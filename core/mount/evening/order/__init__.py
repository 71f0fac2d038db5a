"""The exact choice of the evening by dynamic programming."""
