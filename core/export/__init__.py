"""Results in other formats."""
