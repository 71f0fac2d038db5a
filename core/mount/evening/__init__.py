"""The evening in order: options, the exact choice, joining, and what is drawn of it."""
