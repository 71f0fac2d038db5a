"""What the Stand page paints."""
