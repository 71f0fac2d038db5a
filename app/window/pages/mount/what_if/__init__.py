"""What if the mount were another one: changes ticked, set side by side, and one of them taken over."""
