"""What if the mount were another one: the same evening, or season, with one thing of it changed at a time."""
