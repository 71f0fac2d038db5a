"""The order of an evening: what may be chosen, the exact joint choice, and why it is what it is."""
