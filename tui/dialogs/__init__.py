"""tui/dialogs"""
