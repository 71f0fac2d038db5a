"""The evening at other fields: which are set beside the open plan, and what is told of each."""
