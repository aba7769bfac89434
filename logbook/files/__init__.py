"""Files in and out, and what of them is on record already."""
