"""The screens and the commands. Only this package knows Textual."""
