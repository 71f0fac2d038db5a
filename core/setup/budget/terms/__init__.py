"""The terms of the pointing budget: what a term is, the table of them, how elements age."""
