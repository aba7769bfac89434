"""What is set once."""
