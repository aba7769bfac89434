"""Reading the record."""
