"""Clearance beside the Mount page: the lengths typed, the map, what is nearest to what, the cable."""
