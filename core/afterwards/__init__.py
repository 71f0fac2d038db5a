"""After the evening: the log beside what was planned, what its dials say of north, and reading it back."""
