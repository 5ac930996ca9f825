"""Armholes: what is bound off and decreased at each side of a panel between the underarm and the cross back.

Rows count from 1 at the first armhole row, a right-side row. A published body of 62 cm (174 stitches, bind off
8, 26 more over 64 rows) and the proportions in print (bind-off 1/2 to 1 1/2 in, shaping done in the lower third
to two thirds) are checked in tests/published.
"""

from workshop.core.calculation import WHOLE
from workshop.core.making.cloth import Cloth
from workshop.core.making.edges import edge_cm, shaped_edge
from workshop.core.making.ledger import Schedules
from workshop.core.making.panels import alike, bound_off_at_both
from workshop.core.making.roles import Edge
from workshop.core.making.spacing import two_rates
from workshop.records import record

FIRST_BIND_OFF_CM = 2.5
"""First stretch bound off at the underarm of a set-in sleeve (printed: 1/2 to 1 1/2 in, usually 1 in)."""

FIRST_PART, MOST_FIRST_CM = 0.3, 5.0
"""Where an armhole takes much, the part of it that is bound off first, and the most (common practice: 4 to 5 cm)."""

SHAPED_PART, SHAPED_PART_OF_MUCH = 2 / 3, 0.55
"""Part of the armhole rows in which all shaping must be done (printed: a third to two thirds); where an armhole takes
much it is done sooner, with decreases on every row first (method: wide bust, narrow back)."""

MUCH_CM = 9.0
"""An armhole that takes more than this from each side takes much (common practice, no source)."""


@record
class Armhole:
    """The shaping of one armhole edge: ``bind_offs`` in pairs of rows, then single decreases."""

    bind_offs: tuple[int, ...]
    decrease_rows: tuple[int, ...]
    rows: int
    """All rows of the armhole, from the first bind-off to the shoulder."""

    @property
    def taken(self) -> int:
        """Stitches taken at each side."""
        return sum(self.bind_offs) + len(self.decrease_rows)

    @property
    def shaped_rows(self) -> int:
        """Rows in which it is shaped."""
        return max(2 * len(self.bind_offs), *self.decrease_rows, 0)

    def outer(self, begins: Edge, underarm_row: int) -> Schedules:
        """Both edges of a panel whose armhole begins after ``underarm_row``."""
        decreases = alike(underarm_row + r for r in self.decrease_rows)
        return bound_off_at_both(begins, underarm_row + 1, self.bind_offs) + decreases

    def moves(self) -> list[tuple[float, float]]:
        """The edge as (stitches sideways, rows up), for its length: one pair per event."""
        return shaped_edge(self.bind_offs, self.decrease_rows, self.rows)

    def edge_cm(self, cloth: Cloth) -> float:
        """Length of the edge in washed cm, from the side seam to the shoulder."""
        return edge_cm(cloth, self.moves())


def no_armhole(rows: int) -> Armhole:
    """The straight edge of a dropped shoulder."""
    return Armhole((), (), rows)


def square_armhole(taken: int, rows: int) -> Armhole:
    """All stitches bound off at once."""
    return Armhole((taken,), (), rows)


def set_in_armhole(taken: int, rows: int, cloth: Cloth) -> Armhole | None:
    """An inch bound off (more where much is taken), two or three stitches once or twice, the rest in single decreases.

    Decreases stand on right-side rows; where two thirds of the armhole are too few rows, the first ones
    stand on every row, and what is still too much is bound off. None where even that does not fit.
    """
    if taken < 1:
        return None
    much = cloth.across_cm(taken) > MUCH_CM
    first_cm = min(MOST_FIRST_CM, max(FIRST_BIND_OFF_CM, FIRST_PART * cloth.across_cm(taken)))
    first = max(1, min(WHOLE(cloth.stitches_per_10cm * first_cm / 10), (taken + 1) // 2))
    bind_offs = [first]
    left = taken - first
    if taken > 8 and left >= 6:
        bind_offs.append(3 if left >= 12 else 2)
        left -= bind_offs[-1]
        if left >= 14:
            bind_offs.append(2)
            left -= 2
    room = int(rows * (SHAPED_PART_OF_MUCH if much else SHAPED_PART)) // 2 * 2
    while left > room - 2 * len(bind_offs):
        step = min(4, left)
        bind_offs.insert(1, step)
        left -= step
        if 2 * len(bind_offs) > room:
            return None
    bind_offs = [bind_offs[0], *sorted(bind_offs[1:], reverse=True)]
    return Armhole(tuple(bind_offs), _decrease_rows(2 * len(bind_offs), left, room), rows)


def _decrease_rows(after: int, count: int, room: int) -> tuple[int, ...]:
    """Every second row, or every row first where there is not enough room."""
    if not count:
        return ()
    if 2 * count <= room - after:
        return tuple(after + 1 + 2 * i for i in range(count))
    rows = (room - after) // 2 * 2
    (_, slow), (_, quick) = two_rates(rows, count)
    found = [after + 1 + i for i in range(quick)]
    at = after + quick
    return tuple(found + [at + 1 + 2 * i for i in range(slow)])
