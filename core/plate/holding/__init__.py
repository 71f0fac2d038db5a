"""What turns the joint and what holds it."""
