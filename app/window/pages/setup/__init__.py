"""The Setup page: finding north on site, and how good it has to be."""
