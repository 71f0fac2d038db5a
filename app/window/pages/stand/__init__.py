"""The Stand page: the station in the wind, what holds it, what it could fall on, all wishes together."""
