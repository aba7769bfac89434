"""What is due, when, and which visits cover it."""
