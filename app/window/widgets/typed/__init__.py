"""What is typed of a plan: groups of numbers, choices, rows, and the edits they send."""
