"""The Evening page: the evening on the dial, the list of passes, one pass opened."""
