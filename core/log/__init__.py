"""What comes back from the field: per contact, whether it was worked and where the dials stood."""
