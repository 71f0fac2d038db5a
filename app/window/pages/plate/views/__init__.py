"""What the Plate page paints."""
