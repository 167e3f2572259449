"""What a unit carries and what must be done to it: read from YAML, checked, expanded into sheets."""
