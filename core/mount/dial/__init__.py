"""What the dials read and print."""
