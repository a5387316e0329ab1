"""tui/widgets"""
