"""Before water, and plans."""
