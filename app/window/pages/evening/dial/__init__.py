"""The evening on the dial: its ground, strokes, names and the line that joins them."""
