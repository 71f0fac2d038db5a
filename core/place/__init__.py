"""Where and when: site, locator, zones, the evening's hours, the Sun, declination, the horizon file."""
