"""The Mount page: the numbers of the rotator and what follows from them."""
