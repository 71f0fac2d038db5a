"""What is told of the satellite itself: sunlight on it, and its frequencies."""
