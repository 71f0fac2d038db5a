"""The mount: seven rooms from its model up to the seat, the evening and the steering."""
