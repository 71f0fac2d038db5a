"""The mount: the chain of angles, ways, verdicts, the study of the seat, the evening."""
