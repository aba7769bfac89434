"""What people type and read."""
