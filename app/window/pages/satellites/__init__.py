"""The Satellites page: element sets in and out, and which satellites are wanted."""
