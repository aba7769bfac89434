"""`logbook bench`."""
