"""A dive-and-wear logbook for watches: what each contact with water cost each seal, and what is due."""

__version__ = "0.1.0"
