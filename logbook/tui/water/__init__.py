"""Exposures."""
