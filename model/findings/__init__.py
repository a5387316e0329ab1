"""What readings, their trends and their difference from what was reckoned say: likely causes, and what to do next."""
