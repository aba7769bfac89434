"""The file of the record: opened, upgraded, backed up, looked through."""
