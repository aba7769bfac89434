"""What repeats, and hours on the wrist."""
