"""The calculators: what they ask, work out and show, for the command and the room."""
