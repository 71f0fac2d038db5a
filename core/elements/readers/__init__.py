"""Readers of element sets, one a format."""
