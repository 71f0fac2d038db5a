"""The commands, one module each. They never import Qt."""
