"""Pieces that several screens draw."""
