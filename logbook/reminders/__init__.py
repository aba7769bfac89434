"""Reminders: notices and the calendar."""
