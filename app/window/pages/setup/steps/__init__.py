"""The questions, one a module or two."""
