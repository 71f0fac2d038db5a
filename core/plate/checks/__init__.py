"""The plate's checks, by subject: each with formula, numbers, source and what to change."""
