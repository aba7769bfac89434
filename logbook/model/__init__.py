"""Values, constants, and everything worked out from them; nothing here reads or writes."""
