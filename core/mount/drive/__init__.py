"""A pass in the mount frame, and how the axes follow it."""
