"""Values, constants and everything that is worked out from them; no input or output."""
