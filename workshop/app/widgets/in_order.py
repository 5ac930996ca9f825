"""Keys in the order in which they were typed, however fast they come.

The toolkit hands a key on from widget to widget up to the app, and only there does what it is bound to. Keys that come
``first`` are done at once, so they would overtake it: they wait with :func:`settled`, and what they wait for does its
own keys itself.
"""

from asyncio import Event, wait_for

from textual import events
from textual.widget import Widget
from textual.widgets import Input


class OwnKeys(Widget):
    """A widget that does its own keys in its turn, so that :func:`settled` waits for them too."""

    async def _on_key(self, event: events.Key) -> None:
        """Do what the key is bound to here; what it is bound to elsewhere is done there."""
        active = self.screen.active_bindings.get(event.key)
        if active is None or active.node is not self or active.binding.priority:
            return
        if await self.app.run_action(active.binding.action, self):
            event.stop()
            event.prevent_default()


class LineInput(Input, OwnKeys):
    """A field for a line of text."""


async def settled(widget: Widget) -> None:
    """Wait until a widget has worked off the keys that were typed before."""
    done = Event()
    if widget.call_later(done.set):
        try:
            await wait_for(done.wait(), 1.0)
        except TimeoutError:  # a widget that is going away
            return
