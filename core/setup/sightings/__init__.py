"""Sightings: what the dial readings say of tonight's correction, what is wrong, and what to sight next."""
