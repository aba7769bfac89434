"""What is due, when, and which workshop visits cover it."""
