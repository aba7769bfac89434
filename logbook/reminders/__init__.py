"""Notices and the calendar."""
