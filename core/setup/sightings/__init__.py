"""Sightings: from a table of dial readings to tonight's correction, what is wrong with it, and what to sight next."""
