"""What the hand at the controller does in a contact, line by line: what the card prints."""
