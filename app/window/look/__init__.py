"""Colours, type and the marks of the verdicts, the same on every page."""
