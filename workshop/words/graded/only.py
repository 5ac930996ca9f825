"""Lines for some sizes only: which sizes share a sentence, and how sizes are named."""

import re
from collections.abc import Sequence

from workshop.records import record
from workshop.words.graded.brackets import Values, rateless, skeleton, together
from workshop.words.phrase import joined


@record
class Lines:
    """Lines that belong together, and the places of the sizes that they are for."""

    lines: tuple[str, ...]
    sizes: tuple[int, ...]


def grouped(texts: Values, *, exactly: bool = False) -> list[tuple[int, ...]]:
    """Sizes whose sentences differ in nothing but figures and what some leave out, the largest group first.

    ``exactly``: in nothing but figures and what comes to a rate.
    """
    found: dict[str, list[int]] = {}
    for at, text in enumerate(texts):
        if text is not None:
            found.setdefault(rateless(text) if exactly else skeleton(text), []).append(at)
    return [tuple(sizes) for sizes in sorted(found.values(), key=lambda sizes: (-len(sizes), sizes[0]))]


def merged(texts: Values) -> list[Lines]:
    """A sentence of each size as one line, or as one for each group of sizes."""
    found = []
    for sizes in grouped(texts):
        own = _only(texts, sizes)
        line = together(own)
        if line is not None:
            found.append(Lines((line,), sizes))
        else:  # sizes that share a sentence leave out, or have, different parts of it
            found += [one for some in grouped(own, exactly=True) for one in merged(_only(own, some))]
    return found


def _only(texts: Values, sizes: Sequence[int]) -> Values:
    return [text if at in sizes else None for at, text in enumerate(texts)]


def called(names: Sequence[str]) -> list[str]:
    """What sizes are called in lines for some of them: their names, or their numbers where those could be misread."""
    odd = any(re.search(r"[,():]|\b(?:and|to|only)\b", name) for name in names)
    if odd or len({name.casefold() for name in names}) < len(names):
        return [str(number) for number in range(1, len(names) + 1)]
    return list(names)


def named(sizes: Sequence[int], names: Sequence[str]) -> str:
    """Sizes by name: "Size M", "Sizes S, M and 2X", "Sizes S to L"."""
    runs: list[list[int]] = []
    for size in sizes:
        if runs and size == runs[-1][-1] + 1:
            runs[-1].append(size)
        else:
            runs.append([size])
    said: list[str] = []
    for run in runs:
        if len(run) > 2:
            said.append(f"{names[run[0]]} to {names[run[-1]]}")
        else:
            said += [names[size] for size in run]
    return f"{'Size' if len(sizes) == 1 else 'Sizes'} {joined(said)}"
