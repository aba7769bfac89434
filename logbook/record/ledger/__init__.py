"""What each exposure was charged, kept beside it."""
