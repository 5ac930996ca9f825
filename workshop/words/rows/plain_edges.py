"""Where a stitch pattern stops short of an edge: stitches worked plain there, and how many repeats are whole."""

from collections.abc import Iterator, Sequence

from workshop.core.fabric.at_edges import Plain, parts_begin, plain_rows, plain_sides, whole_repeats
from workshop.core.making.ledger import Piece, Row
from workshop.words.phrase import joined
from workshop.words.rows.row_actions import noun, when
from workshop.words.rows.runs import LONGEST


def edge_notes(piece: Piece, rows: Sequence[Row]) -> tuple[str, ...]:
    """What is plain at the edges in a run of rows, and from which of them there are more or fewer whole repeats."""
    sides = [f"{_where(plain)} from {noun(piece)} {number}" for number, plain in plain_sides(piece, rows).items()]
    repeats = [f"{many or 'none'} from {noun(piece)} {number}" for number, many in whole_repeats(piece, rows)]
    return (
        *_parts(piece, rows),
        *_in_lines("Plain at the edges", [*_plain(piece, rows)], "; "),
        *_in_lines("Plain sides", sides, "; "),
        *_in_lines("Whole repeats", repeats, ", "),
    )


def _parts(piece: Piece, rows: Sequence[Row]) -> Iterator[str]:
    """With which stitch of the repeat each part begins, where the pattern does not run on over the markers."""
    begin = parts_begin(piece, rows)
    if begin is not None and piece.pattern is not None:
        multiple = piece.pattern.pattern.multiple
        told = ", ".join(f"{p.section.name} {p.column % multiple + 1}" for p in begin[1])
        yield f"In {noun(piece)} {begin[0]}, the parts begin with these stitches of the repeat: {told}."


def _plain(piece: Piece, rows: Sequence[Row]) -> Iterator[str]:
    found: dict[tuple[Plain, ...], list[Row]] = {}
    by_number = {row.row: row for row in rows}
    for number, plain in plain_rows(piece, rows).items():
        found.setdefault(plain, []).append(by_number[number])
    for plain, on in found.items():
        yield f"{_where(plain)} on {when(on, noun(piece))}"


def _where(plain: tuple[Plain, ...]) -> str:
    """Counts at the ends of a row and within it, in the order in which it is worked."""
    if plain[0].part is not None:
        return _in_parts(plain)
    first, last = plain[0].first, plain[-1].last
    if len(plain) == 1 and plain[0].whole:
        return f"all {first}" if first else "none"
    if len(plain) == 1 and first == last:
        return f"{first} at both ends" if first else "none"
    at = [(first, "at the beginning"), (last, "at the end")]
    if len(plain) > 1:
        at[1:1] = [(plain[0].last, "before the neck"), (plain[1].first, "after the neck")]
    told = [f"{many} {where}" for many, where in at if many]
    return joined(told) or "none"


def _in_parts(plain: tuple[Plain, ...]) -> str:
    """Counts at the ends of each part between markers; a part that the neck divides comes twice."""
    names = [p.part.name if p.part else "" for p in plain]
    twice = {names.index(name): " before the neck" for name in names if names.count(name) > 1}
    twice |= {n + 1: " after the neck" for n in twice}
    told = [
        f"{name}{twice.get(n, '')} {p.first} and {p.last}"
        for n, (name, p) in enumerate(zip(names, plain, strict=True))
        if p.first or p.last
    ]
    return ", ".join(told) or "none"


def _in_lines(name: str, told: Sequence[str], between: str) -> Iterator[str]:
    """What is told, in as many lines as it needs."""
    line: list[str] = []
    for part in told:
        if line and len(name) + len(between.join([*line, part])) > LONGEST:
            yield f"{name}: {between.join(line)}."
            line = []
        line.append(part)
    if line:
        yield f"{name}: {between.join(line)}."
