"""The guide: questions and their answers."""
