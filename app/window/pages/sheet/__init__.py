"""The Sheet page: the true pages, saved and printed."""
