"""The areas of the full screen, one mode each."""
