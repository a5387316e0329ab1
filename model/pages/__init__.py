"""Pages and files to take away: a calendar, sheets for others, the record of a year. Nothing here writes files."""
