"""The Mount page's picture: the plate from above, the dial, the station from the side."""
