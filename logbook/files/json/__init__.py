"""Our own JSON."""
