"""What each pass loses, by each means, at every bearing of the seat."""
