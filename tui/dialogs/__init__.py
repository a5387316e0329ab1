"""Questions and forms that return a value."""
