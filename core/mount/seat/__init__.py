"""Where the keyway should point: arcs, losses over the bearing, the study and its words."""
