"""The sample home, invented from end to end."""

from pathlib import Path

SAMPLE = Path(__file__).parent / "home.json"
"""Its file, in the same form as any home's file."""
