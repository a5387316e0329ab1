"""The rules: one small pure function for each finding, from a day's situation to what it shows, or nothing."""
