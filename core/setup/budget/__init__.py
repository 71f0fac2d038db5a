"""The pointing budget: how far off the antennas may look, term by term, before and after the sighting."""
