"""What every room has."""
