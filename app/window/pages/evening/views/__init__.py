"""The Evening page's painted views."""
