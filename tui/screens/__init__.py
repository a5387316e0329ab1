"""tui/screens"""
