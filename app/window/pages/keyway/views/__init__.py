"""The Keyway page's painted views."""
