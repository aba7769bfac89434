"""The one place where what was told is judged."""
