"""What wellward knows about a well, its treatment train and its upkeep. No screen, no terminal."""
