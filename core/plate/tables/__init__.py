"""Standard dimensions and strengths as published tables, each with its source."""
