"""What can be written down from any screen: one question each, and one event."""

from __future__ import annotations

from textual import work

from tui.key_words import key
from tui.recording_app import RecordingApp


class AskingApp(RecordingApp):
    """An app that asks what happened and records the answer. Each form is loaded when it is first opened."""

    @work(exclusive=True, group="dialog")
    async def action_reading(self, quantity: str = "") -> None:
        """Ask for a reading, of a quantity or of any, and record it."""
        from tui.dialogs.reading import record_reading

        await record_reading(self, quantity)

    @work(exclusive=True, group="dialog")
    async def action_lab_result(self) -> None:
        """Ask for what a laboratory found and record it."""
        from tui.dialogs.lab_result import record_lab_result

        await record_lab_result(self)

    @work(exclusive=True, group="dialog")
    async def action_undo(self) -> None:
        """Take back the last thing recorded, after asking."""
        from tui.dialogs.undo import take_back_last

        await take_back_last(self)

    @work(exclusive=True, group="dialog")
    async def action_away(self) -> None:
        """Ask for days when nobody is at home, and record them."""
        from tui.dialogs.away import away_form
        from tui.dialogs.playbook import playbook_for
        from tui.widgets.stay_words import away_words

        absence = await self.push_screen_wait(away_form(self.session.view))
        if absence:
            words, book = away_words(absence, self.session.view.today), playbook_for(absence, self.session.view)
            self.record(absence, said=f"{words}. {key('week.playbooks')} has a playbook for it: {book}.")

    @work(exclusive=True, group="dialog")
    async def action_guests(self) -> None:
        """Ask for days with guests, and record them."""
        from tui.dialogs.guests import guests_form
        from tui.widgets.stay_words import guests_words

        guests = await self.push_screen_wait(guests_form(self.session.view))
        if guests:
            self.record(guests, said=f"{guests_words(guests, self.session.view.today)}.")

    @work(exclusive=True, group="dialog")
    async def action_note(self) -> None:
        """Ask what happened, and record it as typed."""
        from tui.dialogs.note import note_form, note_words

        note = await self.push_screen_wait(note_form(self.session.view))
        if note:
            self.record(note, said=note_words(note, self.session.view))

    @work(exclusive=True, group="dialog")
    async def action_handles(self, handle: str = "") -> None:
        """Ask which valve handle was moved, or where the one named stands now, and record it."""
        from tui.dialogs.handles import move_handle

        await move_handle(self, handle)

    @work(exclusive=True, group="dialog")
    async def action_local_rule(self, topic: str = "") -> None:
        """Ask what a local rule says, and record it."""
        from tui.dialogs.local_rule import rule_form

        rule = await self.push_screen_wait(rule_form(self.session.view, topic))
        if rule:
            self.record(rule, said=f"The rule on {rule.topic} is written down.")

    @work(exclusive=True, group="dialog")
    async def action_contact(self, role: str = "") -> None:
        """Ask whom to call for something, and record it."""
        from tui.dialogs.contact import contact_form, contact_words

        contact = await self.push_screen_wait(contact_form(self.session.view, role))
        if contact:
            self.record(contact, said=contact_words(contact))
