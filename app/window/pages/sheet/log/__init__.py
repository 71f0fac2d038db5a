"""The log: what came back from the field, typed in from the paper or read back."""
