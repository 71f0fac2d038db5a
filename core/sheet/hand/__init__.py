"""What the hand at the controller does in a contact, line by line; the card and the pocket page both print it."""
