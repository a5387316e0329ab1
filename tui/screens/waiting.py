"""A job whose steps have waits: they run down in their lines, ring, and are stopped, resumed or dropped by keys."""

from __future__ import annotations

from model.records.events import Wait
from tui.screens.half_done import HalfDone
from tui.widgets.steps import StepLine

_LOOK_EVERY_S = 1.0


class Waiting(HalfDone):
    """The waits of a job's page. Several may run at once, and none holds up a step."""

    _rung: set[Wait | None]
    """Those that were rung for, or had ended before the page was opened."""

    def on_mount(self) -> None:
        """Begin to look at the waits. One that ended while the page was shut is told and not rung for."""
        super().on_mount()
        self._rung = {step.waiting.wait for step in self._over()}
        if any(step.waiting.minutes for step in self.query(StepLine)):
            self.set_interval(_LOOK_EVERY_S, self.look_at_waits)

    def look_at_waits(self) -> None:
        """Show what is left of each, and ring for those that have just ended."""
        now = self.app.session.moment()
        for step in self.query(StepLine):
            if step.waiting.wait is not None and step.waiting.wait.since is not None:
                step.waiting.settle(now)
                step.draw()
        over = [step for step in self._over() if step.waiting.wait not in self._rung]
        self._rung |= {step.waiting.wait for step in over}
        if over:
            self.app.bell()
            places = ", ".join(str(step.place + 1) for step in over)
            self.notify(f"The wait of step {places} is over.", markup=False)

    def _over(self) -> list[StepLine]:
        now = self.app.session.moment()
        return [step for step in self.query(StepLine) if step.waiting.is_over(now)]

    def heard(self) -> None:
        """A key was pressed: what is over has been noticed."""
        over = self._over()
        for step in over:
            step.waiting.hear(self.app.session.moment())
            step.draw()
        if over:
            self.save_soon()

    # Keys

    def check_action(self, action: str, parameters: tuple[object, ...]) -> bool | None:
        """The keys of waits work on a step that has one."""
        step = self.focused
        if action == "wait":
            return isinstance(step, StepLine) and bool(step.waiting.minutes)
        if action == "drop_wait":
            return isinstance(step, StepLine) and step.waiting.wait is not None
        return super().check_action(action, parameters)

    def action_wait(self) -> None:
        """Start the wait of the step in focus, stop it, or resume it."""
        if isinstance(self.focused, StepLine):
            self.focused.waiting.turn(self.app.session.moment())
            self._turned(self.focused)

    def action_drop_wait(self) -> None:
        """Take the wait of the step in focus as not begun."""
        if isinstance(self.focused, StepLine):
            self.focused.waiting.drop()
            self._turned(self.focused)

    def _turned(self, step: StepLine) -> None:
        step.draw()
        self.refresh_bindings()
        self.save_soon()
