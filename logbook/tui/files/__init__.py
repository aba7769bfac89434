"""Files in, merging, the dossier."""
