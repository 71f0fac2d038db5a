"""Bundled files: the demo scenario, the sheet template, fonts."""
