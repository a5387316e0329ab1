"""Whether forecasts are right as often as they say: simulated homes, a simulator of its own, and a score.

Truth (none of these knows the program): `homefile` (daily use brought in a file), `household` (season, trips, guests, a
change of people), `brine` (valve and salt), `wear` (media, cartridge, membrane), `notes` (what people read, with their
errors), `rules` (refills by a fixed reminder, a sizing table, past intervals).
Against it: `records` (what the household writes down, as events of the program), `salt`, `slow` (the runs), `scores`,
`table`, `command`. All sizes of errors are the simulator's own and were set before any result was seen.
"""
