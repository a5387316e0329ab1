"""The home's file: a TinyDB document that is replaced whole, never half, with a lock and rolling backups."""
