"""The two rows of a panel that are told stitch by stitch: where it is set up, and where its stitches go out."""

from itertools import pairwise
from typing import Literal

from workshop.core.fabric.patterns import SetPanel
from workshop.core.making.centre_panels import PANEL, panel_events, steps_of
from workshop.core.making.ledger import Piece, Row
from workshop.words.rows.row_actions import in_pattern, panel_names, stitches
from workshop.words.rows.steps import in_steps


def set_up(piece: Piece, row: Row) -> str:
    """The row in which a panel gets its markers and its stitches, those that rib and fabric differ by among them."""
    panels = sorted((p for p in piece.panels if p.set_up == row.row), key=lambda p: p.set_up_after)
    bounds = [0, *(n for p in panels for n in (p.set_up_after, p.set_up_after + p.stitches)), row.after]
    sides = [b - a for a, b in pairwise(bounds)][::2]
    inner = [_inner(panel, change, row) for panel, change in zip(panels, _changes(panels, row), strict=True)]
    names = [panel.part for panel in panels]
    if row.side == "WS":
        sides, inner, names = sides[::-1], inner[::-1], names[::-1]
    plain = "work " if in_pattern(piece, row) else _letter(row)
    steps = [f"{plain}{sides[0]}"] if sides[0] else []
    for text, side in zip(inner, sides[1:], strict=True):
        steps += ["place marker", text, "place marker", *([f"{plain}{side}"] if side else [])]
    return f"set up the {panel_names(names, piece)}: {', '.join(steps)}"


def changed(piece: Piece, row: Row) -> list[str]:
    """What is done in a row with each panel whose stitches were planned anew when it had begun."""
    there = {f"{p.part}{PANEL}": p for p in piece.panels if row.row not in (p.set_up, p.goes_out)}
    return [
        f"in the {panel_names([there[e.line].part], piece)}, {e.do} {stitches(e.stitches)} between its markers"
        for e in panel_events(row)
        if e.line in there
    ]


def take_out(piece: Piece, row: Row) -> list[str]:
    """What is done with each panel that ends in a row."""
    panels = [p for p in piece.panels if p.goes_out == row.row]
    told: list[str] = []
    if not panels:
        return told
    for panel, change in zip(panels, _changes(panels, row), strict=True):
        name = panel_names([panel.part], piece)
        if not change:
            told.append(f"remove the {name} markers")
            continue
        do = "increase" if change > 0 else "decrease"
        steps = _inner(panel, change, row, base=panel.stitches)
        told.append(
            f"in the {name}, {do} {stitches(abs(change))} between its markers ({steps}), then remove the markers"
        )
    return told


def _changes(panels: list[SetPanel], row: Row) -> list[int]:
    """Stitches that each panel brings or takes in a row; the first makes up what rib and fabric differ by."""
    found = [sum(e.change for e in panel_events(row) if e.line == f"{p.part}{PANEL}") for p in panels]
    found[0] += sum(e.change for e in row.events if e.across)
    return found


def _inner(panel: SetPanel, change: int, row: Row, base: int | None = None) -> str:
    """The steps between the markers."""
    base, letter = panel.stitches - change if base is None else base, _letter(row)
    if not change:
        return f"{letter}{base}"
    technique: Literal["m1", "k2tog"] = "m1" if change > 0 else "k2tog"
    gaps = steps_of(base, change)
    return in_steps(gaps, letter, technique.replace("k", letter) if change < 0 else technique)


def _letter(row: Row) -> str:
    return "p" if row.side == "WS" else "k"
