"""What each kind of stage does today: numbers for scripts, facts for people, alerts."""
