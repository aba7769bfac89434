"""Tables, shapes and revisions."""
