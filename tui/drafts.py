"""What was typed in a form that was left: kept for the next opening of the same form in this sitting."""

from __future__ import annotations


class Drafts:
    """What stood in forms otherwise than as they open, by the name of the form and the field."""

    def __init__(self) -> None:
        self._kept: dict[str, dict[str, str]] = {}
        self._sent: tuple[str, dict[str, str]] | None = None

    def of(self, form: str) -> dict[str, str]:
        """What was left in a form, nothing where it was left as it opened."""
        return self._kept.get(form, {})

    def keep(self, form: str, typed: dict[str, str]) -> None:
        """Keep what was typed; nothing typed forgets what was kept."""
        if typed:
            self._kept[form] = typed
        else:
            self._kept.pop(form, None)

    def send(self, form: str, typed: dict[str, str]) -> None:
        """The form is answered: what was typed waits until it is recorded."""
        self._sent = (form, typed)
        self._kept.pop(form, None)

    def recorded(self, *, done: bool) -> None:
        """Forget what was sent, or keep it as if the form had been left where nothing was recorded."""
        if self._sent and not done:
            self.keep(*self._sent)
        self._sent = None
