"""Setting up a home: questions as data, what was answered, and the home that follows. Knows no screen and no file."""
