"""Radio: what can be heard of a satellite, and how far its motion shifts it."""
