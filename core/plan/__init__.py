"""The plan: document, defaults, picks, edits, roster, storage."""
