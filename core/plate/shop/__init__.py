"""What goes to the shop: the order of work, the hole table, the list of files."""
