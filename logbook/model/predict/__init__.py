"""Bands, forecasts and chances."""
