"""From elements to passes: frames, the search, tracks over the mask."""
