"""Setting up on site: finding north, level, sightings and their fit, and how good it has to be."""
