"""Pictures in characters."""
