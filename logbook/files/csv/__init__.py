"""Tables as CSV."""
