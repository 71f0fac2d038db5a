"""Setting up on site: one question at a time."""
