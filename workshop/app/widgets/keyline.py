"""The line of keys at the foot of a screen: as many as fit, the most needed first."""

from textual.content import Content
from textual.widgets import Static

FIRST = (
    "app.next", "app.quit", "app.help", "needles.done", "needles.ways", "needles.back", "needles.count",
    "needles.piece", "app.steps", "app.agree", "start.new", "start.knit", "summary.knit", "summary.sizes",
    "sizes.take", "sizes.rule", "sizes.print", "sizes.table", "needles.left", "needles.lost",
    "class.yarn", "class.swatches", "class.page", "class.folder", "class.next", "class.back", "start.class",
    "summary.print", "app.offers", "app.lesson", "app.working", "app.more", "app.back", "app.shown", "app.projects",
)  # fmt: skip
"""Keys by how much they are needed; what does not fit is in the help and in the palette."""

ORDER = (
    "needles.done", "needles.back", "needles.count", "needles.ways", "needles.piece", "needles.left", "needles.lost",
    "start.new", "start.knit", "start.class", "class.yarn", "class.swatches", "class.page", "class.folder",
    "class.next", "class.back", "summary.knit", "summary.sizes",
    "sizes.take", "sizes.rule", "sizes.print", "sizes.table", "app.help", "app.lesson", "app.working", "app.steps",
    "app.offers",
    "app.agree", "summary.print", "app.shown", "app.back", "app.next", "app.projects", "app.more", "app.quit",
)  # fmt: skip
"""The order in which they stand."""


BETWEEN = "  "
"""What stands between two keys."""


class KeyLine(Static):
    """Keys that work here and now. A click on one does what the key does."""

    def __init__(self) -> None:
        super().__init__(Content(""), id="keys")

        self._shown: tuple[tuple[str, str, str], ...] = ()
        """Key, name and action of each that stands there."""

    def on_mount(self) -> None:
        """Follow what can be done."""
        self.screen.bindings_updated_signal.subscribe(self, lambda _screen: self.show_keys())
        self.show_keys()

    def on_resize(self) -> None:
        """Another width has room for other keys."""
        self.show_keys()

    def show_keys(self) -> None:
        """Show the keys that can be pressed now."""
        if not self.is_attached or self.screen is not self.app.screen:
            return
        found = {
            active.binding.id: (self.app.get_key_display(active.binding), active.binding)
            for active in self.screen.active_bindings.values()
            if active.enabled and active.binding.id in FIRST
        }
        room, chosen = (self.size.width or self.app.size.width) + len(BETWEEN), set()
        for name in FIRST:
            if name in found:
                width = len(found[name][0]) + len(found[name][1].description) + 1 + len(BETWEEN)
                if width <= room:
                    room -= width
                    chosen.add(name)
        keys = [found[name] for name in ORDER if name in chosen]
        shown = tuple((key, binding.description, _click(binding.action)) for key, binding in keys)
        if shown != self._shown:
            self._shown = shown
            parts = [
                Content.from_markup(f"[@click={click}][b]$key[/b] $name[/]", key=key, name=name)
                for key, name, click in shown
            ]
            self.update(Content(BETWEEN).join(parts), layout=False)


def _click(action: str) -> str:
    name, paren, rest = action.partition("(")
    return (name if "." in name else f"app.{name}") + (f"({rest}" if paren else "()")
