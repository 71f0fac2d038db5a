"""Painted views of the pages."""
