"""The season: many evenings of the same local hours, before a hole is drilled."""
