"""Element sets: reading two-line sets and OMM, writing OMM, age."""
