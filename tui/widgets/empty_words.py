"""What to do where nothing is known yet, by the keys of the screen: the model names the command of the shell."""

from __future__ import annotations

from tui.key_words import key

_COMMAND = "wellward read "


def in_keys(text: str) -> str:
    """The text with the keys that record a reading before the first command of the shell."""
    before, command, after = text.partition(_COMMAND)
    if not command:
        return text
    return (
        f"{before}press {key('reading')} for a reading, {key('lab_result')} for a laboratory result; in the shell: "
        f"{command}{after}"
    )
