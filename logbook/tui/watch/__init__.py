"""The Watch room, a new watch, editing one."""
