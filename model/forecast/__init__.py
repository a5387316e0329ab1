"""From the log to dates, stock and money."""
