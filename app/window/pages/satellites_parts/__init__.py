"""Parts of the Satellites page."""
