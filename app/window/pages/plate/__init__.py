"""The Plate page: the adapter to scale, its numbers, its checks, the files for the shop."""
