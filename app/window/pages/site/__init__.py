"""The Site page: place, hours, and the horizon unrolled on the dial."""
