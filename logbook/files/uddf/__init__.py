"""Dives from UDDF."""
