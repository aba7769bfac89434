"""Changing the record, with its journal."""
