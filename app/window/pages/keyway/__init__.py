"""The Keyway page: the station from above, and what is lost where it stands."""
