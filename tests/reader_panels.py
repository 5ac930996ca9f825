"""What the reader of printed words knows of panels: where they are set up, which of their rows each row is, their end.

Like the reader itself it is written from the instructions and knows nothing of the code that prints them.
"""

import re
from collections.abc import Callable, Iterator

from workshop.core.making.ledger import Event

PART = r"(?:(?:left |right )?sleeve|front|back)"
NAMES = rf"(?:{PART}(?:, {PART})* and {PART} panels|(?:{PART} )?panel)"
WHICH_ROW = re.compile(rf", ({NAMES}) (from|on) (row|round) (\d+) of (\d+)")
"""Which row of its pattern each panel has, behind the fabric beside it."""

SET_UP = re.compile(rf"set up the ({NAMES}): (.+)")
GOES_OUT = re.compile(
    rf"in the ({NAMES}), (increase|decrease) (\d+) stitch(?:es)? between its markers \((.+)\), then remove the markers"
)
REMOVED = re.compile(rf"remove the ({NAMES}) markers")


Steps = Callable[[str], list[tuple[int, int]]]
"""Reads the steps of a row: stitches that each uses, and those that it leaves."""


class Panels:
    """The panels on the needle of one who reads, piece after piece."""

    def __init__(self) -> None:
        self.stitches: dict[str, int] = {}
        """Stitches between the markers of each panel, by the part that it is the middle of."""
        self.last: dict[str, tuple[int, int]] = {}
        """The row of its pattern that each panel had last, and how many rows that has."""

    @staticmethod
    def parts(names: str, piece: str) -> list[str]:
        """The parts that panels are named after; the only panel of a piece is the piece's own."""
        found = re.findall(PART, names)
        return found or [piece.partition(",")[0]]

    def told(self, text: str, piece: str, unit: str, rows: range) -> tuple[str, dict[str, dict[int, int]]]:
        """A fabric without what is said of panels beside it, and the row of its pattern that each row is."""
        found: dict[str, dict[int, int]] = {}
        for names, how, noun, at, repeat in WHICH_ROW.findall(text):
            assert how == ("from" if len(rows) > 1 else "on"), text
            assert noun == unit, text
            parts = self.parts(names, piece)
            for part in parts:
                assert part in self.stitches, f"no panel is set up on the {part}"
                before = self.last.get(part, (0, int(repeat)))
                assert int(repeat) == before[1], "a repeat of other rows"
                assert int(at) == before[0] % before[1] + 1, f"row {before[0]} was the last of the {part} panel"
                found[part] = {row: (int(at) + n - 1) % before[1] + 1 for n, row in enumerate(rows)}
                self.last[part] = found[part][rows[-1]], before[1]
        return WHICH_ROW.sub("", text), found

    def event(self, clause: str, piece: str, needle: int, wrong_side: bool, steps: Steps) -> Iterator[Event]:
        """The events of a clause that is about panels; none where it is not. ``steps`` reads the steps of a row."""
        if found := SET_UP.fullmatch(clause):
            yield from self._set_up(
                self.parts(found[1], piece), found[1] == "panel", found[2], needle, wrong_side, steps
            )
        elif found := GOES_OUT.fullmatch(clause):
            (part,) = self.parts(found[1], piece)
            used, left = self._walked(found[4], wrong_side, steps)
            assert used == self.stitches.pop(part), f"not the stitches of the {part} panel"
            assert left - used == int(found[3]) * (1 if found[2] == "increase" else -1) != 0, clause
            yield Event(found[2], "across", int(found[3]), f"{part} panel")  # type: ignore[arg-type]
        elif found := REMOVED.fullmatch(clause):
            (part,) = self.parts(found[1], piece)
            del self.stitches[part]
            yield Event("decrease", "across", 0, f"{part} panel")

    def _set_up(
        self, parts: list[str], alone: bool, text: str, needle: int, wrong_side: bool, steps: Steps
    ) -> Iterator[Event]:
        between = [part.strip(", ") for part in text.split("place marker")]
        assert len(between) == 2 * len(parts) + 1, "two markers for each panel"
        walked = [self._walked(part, wrong_side, steps) if part else (0, 0) for part in between]
        assert sum(used for used, _ in walked) == needle, f"steps are not for {needle} stitches"
        assert all(used == left for used, left in walked[::2]), "stitches change beside a panel"
        if alone:
            assert walked[0] == walked[-1], "a panel that is not in the middle"
        for part, (used, left) in zip(parts, walked[1::2], strict=True):
            assert part not in self.stitches, "set up twice"
            self.stitches[part] = left
            yield Event("increase" if left >= used else "decrease", "across", abs(left - used), f"{part} panel")

    @staticmethod
    def _walked(text: str, wrong_side: bool, steps: Steps) -> tuple[int, int]:
        """Stitches that some steps use, and those that they leave."""
        other = "k" if wrong_side else "p"
        assert not re.search(rf"\b{other}(\d|2tog)", text), "the wrong side of the fabric"
        found = steps(text)
        return sum(used for used, _ in found), sum(left for _, left in found)
