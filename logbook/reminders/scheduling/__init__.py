"""The daily notice in the system's own scheduler."""
