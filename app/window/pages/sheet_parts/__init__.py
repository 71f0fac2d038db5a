"""Parts of the Sheet page."""
