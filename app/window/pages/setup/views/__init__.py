"""Pictures of what is measured."""
