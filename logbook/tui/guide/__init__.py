"""The Guide."""
