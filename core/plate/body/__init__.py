"""The part as a body: faces and places, the hole table, how it sits, what it weighs."""
